"""The size a hole or peg is meant to have, from what it is for."""

from __future__ import annotations

import re

from ..diagnostics.types import Trouble
from ..quantities import tables

SCREW = re.compile(r"[Mm]\d+(?:\.\d+)?$")


def fitted(word: str, size: float | None, screw_name: str, series: str, is_peg: bool) -> float:
    """Diameter in mm for a fit word: `size` is the mate's diameter in mm, or None when a screw is named.

    A hole takes the allowance of the fit on top of its mate, a peg takes it off.  Clearance holes by ISO 273,
    tapping drills by ISO 2306; for a plain size, `clears` takes the play that ISO 273 gives the next larger
    screw. Raises Trouble('unknown-screw')."""
    named = tables.screw(screw_name) if size is None else None
    if word == "bites":
        if named is None:
            raise Trouble("unknown-screw", "`bites` needs a screw", advice=("bites M3",))
        return named.tap_drill
    if word == "clears":
        return _cleared(size, screw_name, series)
    mate = size if named is None else named.across
    assert mate is not None
    fit = tables.FITS[word]
    return fit.pin_for(mate) if is_peg else fit.hole_for(mate)


def _cleared(size: float | None, screw_name: str, series: str) -> float:
    if size is None:
        clearance = tables.screw(screw_name).clearance
        if clearance is None:
            raise Trouble(
                "unknown-screw",
                f"ISO 273 gives no clearance hole for {screw_name}",
                advice=("name the size instead: clears 1.2",),
            )
        return float(getattr(clearance, series))
    rows = [one for one in tables.SCREWS.values() if one.clearance is not None]
    # a size in inches may stand a rounding error above the screw that it is
    row = next((one for one in rows if one.across >= size - 1e-9), rows[-1])
    return size + float(getattr(row.clearance, series)) - row.across
