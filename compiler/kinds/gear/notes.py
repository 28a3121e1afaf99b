"""What a drawing says of a gear: its facts in the words of the recipe, with the sizes that the gear came
to.
"""

from __future__ import annotations

import math

from ...facts import Claims, Entry
from ...facts.gears import gear_of


def told(entry: Entry, claims: Claims) -> list[str]:
    """Teeth, module and shift of the gear as made; of span, tips, helix, backlash what the recipe speaks
    of.
    """
    gear = gear_of(entry, claims).gear
    said = [f"teeth {gear.teeth}", f"module {gear.module:.4g}"]
    if entry.has("across"):
        said.append(f"across {_length(gear.over_tips)}")
    if (span := entry.one("span")) is not None and not gear.inside:
        over = int(span.number("over"))
        said.append(f"span {_length(gear.span(over))} over {over}")
    if abs(gear.shift) > 5e-4:
        said.append(f"shift {gear.shift:.3f}".rstrip("0"))
    if gear.helix:
        said.append(f"helix {math.degrees(gear.helix):.4g}\u00b0 {'left' if gear.left else 'right'}-handed")
    if entry.has("backlash"):
        said.append(f"backlash {_length(gear.thinner)}")
    return said


def _length(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") or "0"
