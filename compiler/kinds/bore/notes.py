"""What a drawing says of a bore, and how it is measured."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from ...model.sections import FlattedSection, PolygonSection
from ...outputs.paper.amounts import fitted
from ...outputs.paper.holes import (
    across_check,
    depth_text,
    flat_checks,
    mouth_checks,
    mouth_text,
    named,
    pocket_check,
    section_text,
)
from ...outputs.paper.measuring import instead
from ...outputs.paper.pointers import at_centre
from ...outputs.paper.threads import designation, thread_check
from ...outputs.paper.types import Check, Note
from ...outputs.paper.views import Scene
from .model import Bore


def notes(scene: Scene, bore: Bore) -> Iterator[Note]:
    """Its thread or its size across, its flats, how deep it goes, its mouth."""
    assert bore.size is not None
    if bore.thread is not None:
        size = designation(bore.thread, bore.thread_name)
    else:
        size = section_text(bore.section, fitted(bore.size, bore.fit, bore.drilled), bore.sizes, bore.fit)
    before = f"{named(scene, bore)}{f'{bore.nut} nut, ' if bore.nut else ''}"
    text = f"{before}{size}{depth_text(bore.depth)}{mouth_text(bore.mouth)}"
    yield at_centre(scene, bore, text, min(bore.placed.half))


def checks(scene: Scene, bore: Bore) -> Iterator[Check]:
    """Its thread or its size across, its mouth, its flats, how deep it is."""
    assert bore.size is not None
    if bore.thread is not None and bore.fit is not None:
        yield thread_check(bore.name, "", bore.thread, bore.fit.said)
    else:
        size = fitted(bore.size, bore.fit, bore.drilled)
        if isinstance(bore.section, FlattedSection | PolygonSection):
            check = pocket_check(scene, bore, bore.section, size, bore.size)
            yield replace(check, line=instead(bore.size.said)) if bore.nut and bore.fit is None else check
        else:
            yield across_check(scene, bore, "across", size, bore.size)
    yield from mouth_checks(bore)
    yield from flat_checks(bore, bore.section, bore.sizes, bore.depth)
