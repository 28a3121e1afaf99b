"""Which ribs and fillets reach further than the flats whose corner they fill, so that their end hangs in the air."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Entry
from ..positions.layout import Flat, cross, dot
from .bodies import Bodies, Corner
from .combine import block, overlap, place
from .kernel import Solid
from .rounds import round_at

UNDER = 0.05
"""A flat is there where material is found this far (mm) below it, at the last bit (mm) of a reach."""
LEAST = 0.05
"""An end hangs in the air where less than this share of it has a flat below."""
MOST = 200


def overhanging(bodies: Bodies, built: Mapping[str, Solid]) -> Iterator[Diagnostic]:
    """A warning for each flat that ends before what fills its corner does."""
    some = [one for one in bodies.claims.of_kind("rib", "fillet") if one.has("between")]
    for entry in some[:MOST]:
        corner = bodies.corner(entry)
        if any(round_at(bodies, ref) for ref in corner.flats):
            continue  # a round wall has no flat below, and what fills its corner reaches into it
        for k in (0, 1):
            ref = corner.flats[k]
            flat, reach = bodies.pages.flat(ref), _reach(entry, corner, k)
            if ref.part and flat is not None and _hangs(entry, corner, k, flat, reach, built):
                said = f"{entry.kind} `{entry.name}` reaches {reach:.4g} along `{ref}`, which ends before: it hangs in the air"
                yield Diagnostic("flat-too-short", Severity.WARNING, said, entry.span,
                                 advice=(f"make it smaller, or check the size of `{ref.name or ref}`",))  # fmt: skip


def _reach(entry: Entry, corner: Corner, k: int) -> float:
    """How far from the corner the fill ends on a flat: a fillet of radius r touches it at r / tan(half the angle)."""
    if entry.kind == "rib":
        return corner.reach[k]
    share = dot(corner.into[0], corner.into[1])
    return corner.reach[k] * float(np.sqrt((1.0 + share) / (1.0 - share)))


def _hangs(entry: Entry, corner: Corner, k: int, flat: Flat, reach: float, built: Mapping[str, Solid]) -> bool:
    into, side = corner.into[k], cross(corner.way, corner.into[k])
    low, high = (-UNDER, 0.0) if dot(side, flat.normal) > 0 else (0.0, UNDER)
    last = block((reach - UNDER, low, corner.stretch[0]), (reach, high, corner.stretch[1]), 0)
    end = place(last, corner.edge, np.array([into, side, corner.way], dtype=np.float64).T.copy())
    there = sum(overlap(end, solid) for name, solid in built.items() if name != entry.name)
    return bool(there < LEAST * end.volume())
