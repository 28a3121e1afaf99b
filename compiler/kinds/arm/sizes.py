"""The sizes of a snap arm: its foot on the page, and how far it stands out of it.

An arm stands square on a flat.  Its nose points to one side; `long` runs from the flat to the face of the
nose that catches, which is both what is measured (the thickness of what it holds) and the length that bends.
"""

from __future__ import annotations

import math

from msgspec import Struct

from ...diagnostics.types import Trouble
from ...facts import Entry
from ...quantities.vectors import XY

LEAD, RETURN = 30.0, 90.0
FACING: dict[str, XY] = {"right": (1.0, 0.0), "left": (-1.0, 0.0), "top": (0.0, 1.0), "bottom": (0.0, -1.0)}


class ArmSizes(Struct, frozen=True):
    """An arm as made: lengths in mm, angles of the nose from the way it is pushed in and pulled out, in
    degrees.
    """

    long: float
    wide: float
    thick: float
    tip: float
    nose: float
    facing: XY
    lead: float
    back: float
    fillet: float

    @property
    def peak(self) -> float:
        """Height of the nose's ridge over the flat."""
        return self.long + (0.0 if self.back >= 90.0 else self.nose / math.tan(math.radians(self.back)))

    @property
    def high(self) -> float:
        """How far the whole arm stands out of the flat."""
        return self.peak + self.nose / math.tan(math.radians(self.lead))


def arm_of(entry: Entry) -> ArmSizes:
    """The sizes of an arm; Trouble('bad-size') where they make no arm."""
    sizes = {
        word: claim.number("size")
        for word in ("long", "wide", "thick")
        if (claim := entry.one(word)) is not None
    }
    nose, tip, fillet = entry.one("nose"), entry.one("tip"), entry.one("fillet")
    lead, back = entry.one("lead"), entry.one("return")
    assert nose is not None
    arm = ArmSizes(
        sizes["long"],
        sizes["wide"],
        sizes["thick"],
        tip.number("number") if tip else sizes["thick"],
        nose.number("number"),
        FACING[nose.word_of("way")],
        lead.number("angle") if lead else LEAD,
        back.number("angle") if back else RETURN,
        fillet.number("number") if fillet else 0.0,
    )
    if not 0.0 < arm.tip <= arm.thick:
        raise _bad(
            entry,
            f"is {arm.tip:g} thick at its tip and {arm.thick:g} at its root",
            "an arm tapers towards its tip",
        )
    if not (10.0 <= arm.lead <= 80.0 and 10.0 <= arm.back <= 90.0):
        raise _bad(
            entry,
            f"has a nose of {arm.lead:g} and {arm.back:g} degrees",
            "lead: 10 to 80 degrees from the way it goes in, return: 10 to 90",
        )
    if arm.fillet >= 0.5 * arm.long:
        raise _bad(
            entry, f"has a fillet of {arm.fillet:g} at a length of {arm.long:g}", "give it a smaller fillet"
        )
    return arm


def high(entry: Entry) -> float:
    """How far the arm stands out of its flat, in mm."""
    return arm_of(entry).high


def half(entry: Entry, made: bool) -> XY:
    """Half-sizes of an arm's foot on the page in mm."""
    nose = entry.one("nose")
    assert nose is not None
    picked = []
    for word in ("thick", "wide"):
        claim = entry.one(word)
        assert claim is not None
        size = claim.measure("size")
        picked.append(0.5 * (size.made if made or size.read is None else size.read).value)
    return (picked[0], picked[1]) if FACING[nose.word_of("way")][0] else (picked[1], picked[0])


def _bad(entry: Entry, said: str, *advice: str) -> Trouble:
    return Trouble("bad-size", f"arm `{entry.name}` {said}", (entry.name,), advice=advice)
