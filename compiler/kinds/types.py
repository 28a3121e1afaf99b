"""What the rooms ask of a kind of body that stands in a folder of its own."""

from __future__ import annotations

from msgspec import Struct

FLATS = ("front", "back")
SIDES = ("left", "right", "top", "bottom")


class KindTraits(Struct, frozen=True):
    """A kind of body in figures and words; what it computes stands in the other files of its folder.

    parts    flats and sides it gives names to
    rounded  readings to its edge are taken to a round
    boxed    it has four straight sides on the page
    thick    the fact that says how far it reaches out of its page, where that is one fact

    Its lines, what it needs and excludes, and the classes of things it belongs to stand in `lines.shapes`."""

    parts: tuple[str, ...] = ()
    rounded: bool = False
    boxed: bool = False
    thick: str = ""


__all__ = ["FLATS", "SIDES", "KindTraits"]
