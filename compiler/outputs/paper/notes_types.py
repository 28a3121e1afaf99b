"""What a note on a drawing is."""

from __future__ import annotations

from msgspec import Struct

from ...quantities.vectors import Vector


class Note(Struct, frozen=True):
    """A note at a point of the finished part: the leader ends `radius` mm from it, or in a face there (None).

    `face` is where it is best seen from; `chain`: the leader may end on the chain line of a pitch circle.
    `other`: the same at another point, where that one is seen better."""

    name: str
    at: Vector
    radius: float | None
    text: str
    face: Vector
    chain: bool = False
    other: Note | None = None
