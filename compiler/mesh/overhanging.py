"""Which ribs and fillets reach further than what they stand on, so that a part of them hangs in the air.

At two flats the last bit of each reach is looked at.  At a round body (a peg, a turning) there is no flat to
end on: there the whole foot must stand on material, and what was let into the round must lie in it, whatever
its steps, flats or height."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Entry, Ref
from ..kinds import own_file
from ..places.layout import Flat
from ..quantities.vectors import cross, dot
from .bodies import Bodies, Corner
from .combine import block, overlap, place, trim
from .kernel import Solid
from .rounds import Round, core, round_at

UNDER = 0.05
"""A flat is there where material is found this far (mm) below it, at the last bit (mm) of a reach."""
LEAST = 0.05
"""An end hangs in the air where less than this share of it has a flat below."""
WHOLE = 0.99
"""At a round: the share of the foot, and of what lies in the round, that must find material; facets take the
rest.
"""
MOST = 200


def overhanging(bodies: Bodies, built: Mapping[str, Solid]) -> Iterator[Diagnostic]:
    """A warning for each flat that ends before what fills its corner does, and what kinds of their own say of
    their feet.
    """
    for name in sorted(built):
        own = own_file(bodies.claims.entries[name].kind, "solid")
        if own is not None and hasattr(own, "told"):
            yield from own.told(bodies, bodies.claims.entries[name])
    some = [one for one in bodies.claims.of_kind("rib", "fillet") if one.has("between")]
    for entry in some[:MOST]:
        corner = bodies.corner(entry)
        rounds = [(ref, one) for ref in corner.flats if (one := round_at(bodies, ref)) is not None]
        if rounds:
            yield from _at_round(bodies, entry, corner, *rounds[0], built)
            continue
        for k in (0, 1):
            ref = corner.flats[k]
            flat, reach = bodies.pages.flat(ref), _reach(entry, corner, k)
            if ref.part and flat is not None and _hangs(entry, corner, k, flat, reach, built):
                said = (
                    f"{entry.kind} `{entry.name}` reaches {reach:.4g} "
                    f"along `{ref}`, which ends before: it hangs in the air"
                )
                yield Diagnostic(
                    "flat-too-short",
                    Severity.WARNING,
                    said,
                    entry.span,
                    advice=(f"make it smaller, or check the size of `{ref.name or ref}`",),
                )


def _at_round(
    bodies: Bodies, entry: Entry, corner: Corner, ref: Ref, one: Round, built: Mapping[str, Solid]
) -> Iterator[Diagnostic]:
    other = corner.flats[1] if ref is corner.flats[0] else corner.flats[0]
    flat, fill = bodies.pages.flat(other), bodies.solid(entry.name)
    if flat is None:
        return
    x, y, z = flat.normal
    foot = trim(fill.translate((-UNDER * x, -UNDER * y, -UNDER * z)), flat.point, flat.normal, 0)
    others = [solid for name, solid in built.items() if name != entry.name]
    let_in = core(fill, one, bodies.chord)
    if not foot.volume() or sum(overlap(foot, solid) for solid in others) < WHOLE * foot.volume():
        said = (
            f"{entry.kind} `{entry.name}` does not stand on `{other}` all over: a part of it hangs in the air"
        )
        advice = f"make it smaller, or check where `{ref.name}` stands"
    elif not let_in.volume() or overlap(let_in, built[ref.name]) < WHOLE * let_in.volume():
        said = (
            f"{entry.kind} `{entry.name}` does not touch `{ref.name}` "
            f"all over: it fits a round {2 * one.radius:.4g} across"
        )
        advice = f"make it smaller, or check the height and the foot of `{ref.name}`: a plain round takes it"
    else:
        return
    yield Diagnostic("flat-too-short", Severity.WARNING, said, entry.span, advice=(advice,))


def _reach(entry: Entry, corner: Corner, k: int) -> float:
    """How far from the corner the fill ends on a flat: a fillet of radius r touches it at r / tan(half the
    angle).
    """
    if entry.kind == "rib":
        return corner.reach[k]
    share = dot(corner.into[0], corner.into[1])
    return corner.reach[k] * float(np.sqrt((1.0 + share) / (1.0 - share)))


def _hangs(
    entry: Entry, corner: Corner, k: int, flat: Flat, reach: float, built: Mapping[str, Solid]
) -> bool:
    into, side = corner.into[k], cross(corner.way, corner.into[k])
    low, high = (-UNDER, 0.0) if dot(side, flat.normal) > 0 else (0.0, UNDER)
    last = block((reach - UNDER, low, corner.stretch[0]), (reach, high, corner.stretch[1]), 0)
    end = place(last, corner.edge, np.array([into, side, corner.way], dtype=np.float64).T.copy())
    there = sum(overlap(end, solid) for name, solid in built.items() if name != entry.name)
    return bool(there < LEAST * end.volume())
