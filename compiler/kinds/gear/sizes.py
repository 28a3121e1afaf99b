"""How far a gear reaches on its page, by its own words alone, and how thick it is."""

from __future__ import annotations

from ...facts import Entry
from ...quantities.vectors import XY


def half(entry: Entry, made: bool) -> XY:
    """About how far (mm) a gear reaches from its axis; nothing where its mate decides that."""
    over = entry.one("rim") or entry.one("across")
    module, teeth = entry.one("module"), entry.one("teeth")
    if over is not None:
        reach = 0.5 * over.number("size")
    elif module is not None and teeth is not None:
        reach = 0.5 * module.number("size") * (teeth.number("count") + 2.0)
    else:
        reach = 0.0
    return reach, reach


def high(entry: Entry) -> float:
    """How thick the gear is, in mm."""
    claim = entry.one("thick")
    assert claim is not None
    return claim.number("size")
