"""The snap joints of a turning: beads that go through a narrower mouth (inside: over a wider neck).

The hoop of the ring is stretched.  A ring that is slit bends its tongues instead: its hoop is not judged."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...checks.snaps import LYING, Layers, Snap, SnapBench, tenths
from ...quantities.snaps import ring_strain
from .model import Shaped, Turning
from .slits import is_slit

FELT = 0.2  # mm across: the least undercut of a bead worth advising


def joints(turning: Turning, bench: SnapBench) -> Iterator[Snap]:
    """The joints, in the order of their lines' text."""
    for bead in turning.shaped:
        if bead.mouth is not None and _catches(bead.size.value, bead.mouth.value, bead.inside):
            yield _joint(turning, bead, bead.mouth.value, bench)


def _catches(bead: float, mouth: float, inside: bool) -> bool:
    return mouth > bead if inside else mouth < bead


def _joint(turning: Turning, bead: Shaped, mouth: float, bench: SnapBench) -> Snap:
    """`bead 21.0 at 4.0 wide 1.6 through 20.4`."""
    # the hoop runs in the layers of a turning that stands on the bed, and up through them in one that lies
    leans = bench.leans(turning.way)
    across = leans is not None and math.sqrt(max(0.0, 1.0 - leans * leans)) > LYING
    stuff = bench.stuff(across)
    layers = Layers(
        across,
        leans is None,
        "it is taken to stand on its end on the bed, its layers round the ring",
        "print it standing on its end, so that its layers run round the ring:  prints on ...",
    )
    size, often = bead.size.value, stuff.takes.often
    least = mouth / (1.0 + often) if bead.inside else mouth * (1.0 + often)
    would_do = "slit the ring into tongues:  a notch across it"
    if abs(least - mouth) > FELT:
        would_do = f"a bead of {tenths(least, not bead.inside)} snaps in again and again; or {would_do}"
    return Snap(
        f"the bead of `{turning.name}`",
        f"of {size:g} goes {'over' if bead.inside else 'through'} {mouth:g}",
        ring_strain(size, mouth),
        stuff,
        layers,
        would_do,
        bead.said.span,
        is_slit(turning, bead, bench.part),
    )
