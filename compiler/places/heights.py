"""How high bodies reach over the plane they stand on: from their sizes, or from the flats they meet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..diagnostics.types import Trouble
from ..facts import Ref
from ..facts.extents import station_ends, thickness
from ..facts.kind_questions import is_turning
from ..facts.placing import Against, FlushWith, Raised, Reaches
from ..facts.placing_reader import Placing
from ..quantities.vectors import dot

if TYPE_CHECKING:
    from .planes import Planes

Heights = tuple[float, float]


def body_heights(pages: Planes, placing: Placing, base: float, out: int) -> Heights:
    """Lowest and highest height (mm) of a body that stands `base` over its plane and points `out` of it."""
    entry, raised = placing.entry, placing.one(Raised)
    if is_turning(entry):
        pages.layout.use(entry, raised)
        ends = [base + out * end for end in station_ends(entry)] or [base]
        return min(ends), max(ends)
    thick = thickness(entry)
    if thick is None:
        thick = _reach(pages, placing, base, out)
    met = _met(pages, placing, thick) if thick is not None else None
    if met is not None:
        return met
    pages.layout.use(entry, raised)
    top = base + out * (thick or 0.0)
    return min(base, top), max(base, top)


def _reach(pages: Planes, placing: Placing, base: float, out: int) -> float | None:
    """How far a block goes that ends a distance from a flat."""
    fact = placing.one(Reaches)
    if fact is None:
        return None
    there = height_of(pages, fact.thing, pages.stand(placing.entry.name)[0])
    pages.layout.use(placing.entry, fact)
    away = 1 if there <= base + 1e-9 or out < 0 else -1
    return abs(there + (out if out else away) * fact.size - base)


def _met(pages: Planes, placing: Placing, thick: float) -> Heights | None:
    """The heights of a body one of whose flats lies in, or against, a parallel one; None where none does."""
    plane = pages.stand(placing.entry.name)[0]
    facts: tuple[FlushWith | Against, ...] = (*placing.all(FlushWith), *placing.all(Against))
    for fact in facts:
        height = parallel_height(pages, fact.thing, plane)
        if height is not None:
            pages.layout.use(placing.entry, fact)
            below = faces_out(pages, fact.thing, plane) == isinstance(fact, FlushWith)
            return (height - thick, height) if below else (height, height + thick)
    return None


def height_of(pages: Planes, ref: Ref, plane: str) -> float:
    """Height over a plane of a flat that lies parallel to it; raises Trouble where it does not."""
    height = parallel_height(pages, ref, plane)
    if height is None:
        raise Trouble(
            "not-parallel",
            f"`{ref}` does not lie along this plane, so no height can be read from it",
            (str(ref),),
        )
    return height


def parallel_height(pages: Planes, ref: Ref, plane: str) -> float | None:
    """Height over a plane of a flat, None where it is none or does not lie parallel to the plane."""
    if not pages.is_flat(ref) or not ref.name:
        return None
    there, base, _ = pages.flat_page(ref)
    if there == plane:
        return base
    flat = pages.flat(ref)
    frame = pages.layout.frames.get(plane)
    if flat is None or frame is None or abs(abs(dot(flat.normal, frame.out)) - 1.0) > 1e-9:
        return None
    return frame.onto(flat.point)[1]


def faces_out(pages: Planes, ref: Ref, plane: str) -> bool:
    """Whether a flat parallel to a plane faces the way the plane does."""
    there, _, out = pages.flat_page(ref)
    if there == plane:
        return out > 0
    flat, frame = pages.flat(ref), pages.layout.frames.get(plane)
    return flat is None or frame is None or dot(flat.normal, frame.out) > 0
