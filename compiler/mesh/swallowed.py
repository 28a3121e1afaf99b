"""Which bodies lie wholly inside another, so that they add nothing to the part."""

from __future__ import annotations

from collections.abc import Mapping

from ..diagnostics.types import Diagnostic, Label, Severity
from ..model import Model
from .combine import overlap
from .kernel import Solid

SLIVER = 1e-3  # mm3
TOUCH = 1e-6  # mm
MOST = 200


def swallowed(model: Model, bodies: Mapping[str, Solid]) -> list[Diagnostic]:
    """A warning for each body that adds nothing to the part."""
    found = []
    for inner, outer in _pairs(bodies):
        said = f"`{inner}` lies wholly inside `{outer}`: it adds nothing to the part"
        others = (Label(model.things[outer].span, "this holds all of it"),)
        found.append(
            Diagnostic(
                "adds-nothing",
                Severity.WARNING,
                said,
                model.things[inner].span,
                others=others,
                advice=("check its place and its size",),
            )
        )
    return found


def _pairs(bodies: Mapping[str, Solid]) -> list[tuple[str, str]]:
    """Pairs (body, the one it lies in), by name; of two that are the same solid the later name is told.

    Boxes are asked first, so an ordinary part costs the kernel nothing.  Past `MOST` bodies nobody writes by
    hand."""
    names = sorted(bodies)[:MOST]
    boxes = {name: bodies[name].bounding_box() for name in names}
    found: dict[str, str] = {}
    for inner in names:
        for outer in names:
            if inner == outer or inner in found or found.get(outer) == inner:
                continue
            a, b = boxes[inner], boxes[outer]
            inside = all(a[k] >= b[k] - TOUCH and a[k + 3] <= b[k + 3] + TOUCH for k in range(3))
            if inside and overlap(bodies[inner], bodies[outer]) >= bodies[inner].volume() - SLIVER:
                found[inner] = outer
    return sorted(found.items())
