"""What a drawing says of a notch."""

from __future__ import annotations

from collections.abc import Iterator

from ...model.sections import BoxSection
from ...outputs.paper.amounts import amount, shown
from ...outputs.paper.holes import depth_text, named
from ...outputs.paper.pointers import at_centre, on_faces
from ...outputs.paper.types import Note
from ...outputs.paper.views import Scene
from .model import Notch


def notes(scene: Scene, notch: Notch) -> Iterator[Note]:
    """Its two sizes, how deep it goes, its rounded corners."""
    assert isinstance(notch.section, BoxSection)
    sizes = " \u00d7 ".join(amount(size).text() for _, size in notch.sizes)
    text = named(scene, notch) + sizes + depth_text(notch.depth)
    yield at_centre(scene, notch, text, min(notch.placed.half))
    for size in notch.section.rounds:
        yield from on_faces(scene, notch, f"R{shown(size.value)} inner corners", "round inside")
