"""Pitch circles: a chain line through the copies of a ring (ISO 128, 04.1), and its diameter where the ring
was read by it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct

from ...facts import Entry
from ...facts.placing import RingReading
from ...facts.placing_reader import Placing
from ...places.ring_rows import behind
from ...quantities import Standing
from ...quantities.vectors import Vector, along, dot
from .amounts import EVEN_SPREAD, Amount, exactly, wanted
from .lettering import DIAMETER
from .notes_types import Note
from .relations import finished_way, pitches, place_of
from .views import Scene, finished

_DRAWN = frozenset({"bore", "slot", "notch", "peg", "round", "gear", "turning"})
SMALLEST = 0.05  # mm: rings no wider are none


class PitchCircle(Struct, frozen=True):
    """A circle in the finished part: its middle, the way it faces, radius in mm, the first place on it, how
    far it runs from there (radians, anticlockwise seen from where it faces; 2 pi: all round), and what is
    written at it ('' for nothing)."""

    name: str
    at: Vector
    out: Vector
    radius: float
    first: Vector
    sweep: float
    text: str

    def note(self) -> Note:
        """Its note, at the end of a leader to the circle."""
        return Note(self.name, self.at, self.radius, self.text, self.out, chain=True)


def pitch_circles(scene: Scene) -> list[PitchCircle]:
    """The pitch circle of every ring of round things that lie off its middle."""
    return list(_circles(scene))


def _circles(scene: Scene) -> Iterator[PitchCircle]:
    for ring, entry, places in pitches(scene):
        about = ring.one("about")
        middle = place_of(scene, about.ref("thing")) if ring.kind == "ring" and about is not None else None
        if middle is None or entry.kind not in _DRAWN:
            continue
        frame = scene.layout.frames[scene.layout.spots[entry.name].page]
        spot = scene.layout.spots[entry.name]
        centre = frame.point(spot.at, spot.base)
        middle = along(middle, (frame.out, dot(frame.out, along(centre, (middle, -1.0)))))
        radius = math.dist(middle, centre)
        if radius < SMALLEST:
            continue
        over = ring.one("over")
        said = _text(scene, ring, entry, radius)
        hand = -1.0 if scene.part.mirrored else 1.0
        sweep = hand * math.radians(over.number("angle")) if over is not None else 2.0 * math.pi
        yield PitchCircle(
            ring.name,
            finished(middle, scene.part),
            finished_way(frame.out, scene.part.mirrored),
            radius,
            places[0],
            sweep,
            said,
        )


def _text(scene: Scene, ring: Entry, entry: Entry, radius: float) -> str:
    placing, over = scene.layout.facts.of[ring.name], ring.one("over")
    fact = placing.one(RingReading)
    said = (
        [f"{ring.name} pitch circle {_amount(placing, fact, entry, radius).text(DIAMETER)}"]
        if fact is not None
        else []
    )
    if over is not None:
        said.append(("" if said else f"{ring.name} ") + f"over {over.number('angle'):g}\u00b0")
    return ", ".join(said)


def _amount(ring: Placing, fact: RingReading, entry: Entry, radius: float) -> Amount:
    """The diameter as it came out, with the give-or-take of the reading that it stems from."""
    read, (share, _, u) = fact.reading, behind(ring, fact, entry)
    if read.standing is Standing.ABOUT:
        return exactly(2.0 * radius)
    if read.standing is Standing.WANTED:
        return wanted(2.0 * radius)
    give = 2.0 * share * u * EVEN_SPREAD
    return Amount(2.0 * radius, give, give, Standing.READ)
