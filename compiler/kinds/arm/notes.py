"""What a drawing says of a snap arm: its facts in the words of the recipe."""

from __future__ import annotations

from ...model import Model
from .model import Arm

_ANGLES = ("lead", "return")


def told(arm: Arm, model: Model) -> list[str]:
    """Its sizes (mm) and angles, as many as the recipe gives."""
    return [
        f"{word} {round(size.value, 2):g}" + ("\u00b0" if word in _ANGLES else "") for word, size in arm.told
    ]
