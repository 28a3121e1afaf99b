"""What a drawing says of a snap arm: its sizes in the words of the recipe."""

from __future__ import annotations

from collections.abc import Iterator

from ...outputs.paper.pointers import at_centre, often
from ...outputs.paper.types import Note
from ...outputs.paper.views import Scene
from .model import Arm

_ANGLES = ("lead", "return")


def notes(scene: Scene, arm: Arm) -> Iterator[Note]:
    """Its sizes (mm) and angles, as many as the recipe gives."""
    told = [f"{word} {round(size.value, 2):g}{_sign(word)}" for word, size in arm.told]
    yield at_centre(scene, arm, f"{often(scene, arm)}{arm.name} " + ", ".join(told), arm.placed.half[1])


def _sign(word: str) -> str:
    return "\u00b0" if word in _ANGLES else ""
