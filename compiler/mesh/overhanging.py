"""Which ribs and fillets reach further than what they stand on, so that a part of them hangs in the air.

At two flats the last bit of each reach is looked at.  At a round body (a peg, a turning) there is no flat to
end on: there the whole foot must stand on material, and what was let into the round must lie in it, whatever
its steps, flats or height."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from ..diagnostics.types import Diagnostic, Severity
from ..kinds import needed_file, own_file
from ..model.corners import CornerFill
from ..model.types import FlatOf
from ..quantities.vectors import cross, dot
from .combine import block, overlap, place, trim
from .corner_bodies import Filling
from .kernel import Solid
from .rounds import RoundBody, core, round_at
from .workshop import Workshop

UNDER = 0.05
"""A flat is there where material is found this far (mm) below it, at the last bit (mm) of a reach."""
LEAST = 0.05
"""An end hangs in the air where less than this share of it has a flat below."""
WHOLE = 0.99
"""At a round: the share of the foot, and of what lies in the round, that must find material; facets take the
rest.
"""
MOST = 200


def overhanging(shop: Workshop, built: Mapping[str, Solid]) -> Iterator[Diagnostic]:
    """A warning for each flat that ends before what fills its corner does, and what kinds say of how they
    were built.
    """
    for name in sorted(built):
        own = own_file(shop.body(name).noun, "solid")
        if own is not None and hasattr(own, "told"):
            yield from own.told(shop, shop.body(name))
    for body in shop.model.of(CornerFill)[:MOST]:
        own = needed_file(body.noun, "solid")
        filling: Filling = own.filling(shop, body)
        flats = (filling.corner.first, filling.corner.second)
        rounds = [(flat, one) for flat in flats if (one := round_at(shop, flat)) is not None]
        if rounds:
            yield from _at_round(shop, body, *rounds[0], built)
            continue
        for k, flat in enumerate(flats):
            if flat.part and _hangs(body.name, filling, k, built):
                said = (
                    f"{body.noun} `{body.name}` reaches {filling.ends[k]:.4g} "
                    f"along `{flat.name}`, which ends before: it hangs in the air"
                )
                advice = f"make it smaller, or check the size of `{flat.body}`"
                yield Diagnostic("flat-too-short", Severity.WARNING, said, body.span, advice=(advice,))


def _at_round(
    shop: Workshop, body: CornerFill, side: FlatOf, one: RoundBody, built: Mapping[str, Solid]
) -> Iterator[Diagnostic]:
    corner = body.corner
    other = corner.second if side is corner.first else corner.first
    flat, fill = other.flat, shop.solid(body.name)
    x, y, z = flat.normal
    foot = trim(fill.translate((-UNDER * x, -UNDER * y, -UNDER * z)), flat.point, flat.normal, 0)
    others = [solid for name, solid in built.items() if name != body.name]
    let_in = core(fill, one, shop.chord)
    if not foot.volume() or sum(overlap(foot, solid) for solid in others) < WHOLE * foot.volume():
        said = (
            f"{body.noun} `{body.name}` does not stand on `{other.name}` all over: "
            "a part of it hangs in the air"
        )
        advice = f"make it smaller, or check where `{side.body}` stands"
    elif not let_in.volume() or overlap(let_in, built[side.body]) < WHOLE * let_in.volume():
        said = (
            f"{body.noun} `{body.name}` does not touch `{side.body}` "
            f"all over: it fits a round {2 * one.radius:.4g} across"
        )
        advice = f"make it smaller, or check the height and the foot of `{side.body}`: a plain round takes it"
    else:
        return
    yield Diagnostic("flat-too-short", Severity.WARNING, said, body.span, advice=(advice,))


def _hangs(own: str, filling: Filling, k: int, built: Mapping[str, Solid]) -> bool:
    """Whether there is no flat below the last bit of what fills a corner, on one of its two flats."""
    corner, reach, (start, stop) = filling.corner, filling.ends[k], filling.stretch
    flat = (corner.first, corner.second)[k].flat
    into, side = corner.into[k], cross(corner.way, corner.into[k])
    low, high = (-UNDER, 0.0) if dot(side, flat.normal) > 0 else (0.0, UNDER)
    last = block((reach - UNDER, low, start), (reach, high, stop), 0)
    end = place(last, filling.edge, np.array([into, side, corner.way], dtype=np.float64).T.copy())
    there = sum(overlap(end, solid) for name, solid in built.items() if name != own)
    return bool(there < LEAST * end.volume())
