"""What a drawing says of a peg, and how it is measured."""

from __future__ import annotations

from collections.abc import Iterator

from ...outputs.paper.amounts import fitted
from ...outputs.paper.dimensions import height
from ...outputs.paper.holes import flat_checks, named, peg_check, section_text
from ...outputs.paper.measuring import outside
from ...outputs.paper.pointers import at_bevels, at_centre
from ...outputs.paper.threads import designation, thread_check
from ...outputs.paper.types import Check, Dimension, Note
from ...outputs.paper.views import Scene
from .model import Peg


def notes(scene: Scene, peg: Peg) -> Iterator[Note]:
    """Its thread or its size across, its flats, its bevels."""
    if peg.thread is not None:
        size = designation(peg.thread, peg.thread_name)
    else:
        size = section_text(peg.section, fitted(peg.size, peg.fit, peg.drilled), peg.flats, peg.fit)
    yield at_centre(scene, peg, named(scene, peg) + size, min(peg.placed.half))
    yield from at_bevels(scene, peg, (size for _, size in peg.bevels))


def sizes(scene: Scene, peg: Peg) -> Iterator[Dimension]:
    """How high it is."""
    yield from height(scene, peg, peg.tall)


def checks(scene: Scene, peg: Peg) -> Iterator[Check]:
    """Its thread or its size across, its flats, how high it is."""
    if peg.thread is not None and peg.fit is not None:
        yield thread_check(peg.name, "", peg.thread, peg.fit.said)
    else:
        yield peg_check(scene, peg, fitted(peg.size, peg.fit, peg.drilled), peg.size)
    yield from flat_checks(peg, peg.section, peg.flats, None)
    yield from outside(peg.name, "high", peg.tall)
