"""A plain reason becomes a message at its line, its places told from the writer's own things."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from ..diagnostics.types import Diagnostic, Label, Severity, Span, Trouble
from ..quantities.vectors import XY
from .types import Model, Thing

SAME = 0.005  # mm


def answer(
    trouble: Trouble, span: Span, others: Mapping[str, Span], places: Iterable[tuple[str, XY]] = ()
) -> Diagnostic:
    """The error for a statement that begins at `span`, at the line the reason names, else at its head.

    `others`: where the things it may name are written; the first of them is shown as well.  `places`: what
    lies on the plane at work, from which places are told."""
    named = next((others[name] for name in trouble.names if name in others), span)
    near = sorted(places)
    return Diagnostic(
        trouble.code,
        Severity.ERROR,
        trouble.told(lambda at: _from_nearest(at, near)) if near else str(trouble),
        span if trouble.span is None else trouble.span,
        others=() if named == span else (Label(named, ""),),
        advice=trouble.advice,
    )


def answer_at(trouble: Trouble, thing: Thing, model: Model) -> Diagnostic:
    """The error for a thing of the model, at the line the reason names, else at the thing's head."""
    others = {name: one.span for name, one in model.things.items()}
    spots = [(one.name, one.spot) for one in model.things.values()]
    near = [(name, spot.at) for name, spot in spots if spot is not None and spot.plane == thing.plane]
    return answer(trouble, thing.span, others, near)


def _from_nearest(at: XY, named: list[tuple[str, XY]]) -> str:
    return _from(at, *min(named, key=lambda one: (math.dist(one[1], at), one[0])))


def _from(at: XY, name: str, thing: XY) -> str:
    """`1.20 right of and 3.00 above `tip``."""
    across, up = at[0] - thing[0], at[1] - thing[1]
    words = [f"{abs(across):.2f} {'right' if across > 0 else 'left'} of"] if abs(across) > SAME else []
    words += [f"{abs(up):.2f} {'above' if up > 0 else 'below'}"] if abs(up) > SAME else []
    return f"{' and '.join(words)} `{name}`" if words else f"`{name}`"
