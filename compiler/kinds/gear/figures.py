"""What the report tells of a gear: the sizes by which it is checked."""

from __future__ import annotations

from ...outputs.figures import Figures
from .model import GearBody


def sizes(gear: GearBody) -> Figures:
    """Module, circles, what is read over tips, teeth and pins, mm."""
    wheel = gear.wheel
    found = [("module", wheel.module), ("pitch circle", wheel.pitch), ("feet across", wheel.root)]
    found.append(("between the tips" if wheel.inside else "over the tips", wheel.over_tips))
    found.append(("tip circle", wheel.tip))
    if not wheel.inside:
        found.append((f"span over {wheel.spanned} teeth", wheel.span(wheel.spanned)))
    if wheel.helix == 0.0:
        # The pin nearest to the usual one that a set of drills in tenths holds.
        pin = max(0.5, round(wheel.pin, 1))
        found.append((f"{'between' if wheel.inside else 'over'} pins of {pin:g}", wheel.over_pins(pin)))
    return tuple(found)
