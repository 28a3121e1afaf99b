"""What a drawing says of a gear: its facts in the words of the recipe, with the sizes that the gear came
to.
"""

from __future__ import annotations

import math

from ...model import Model
from .model import Gear


def told(gear: Gear, model: Model) -> list[str]:
    """Teeth, module and shift of the gear as made; of span, tips, helix, backlash what the recipe speaks
    of.
    """
    wheel = gear.wheel
    words = [f"teeth {wheel.teeth}", f"module {wheel.module:.4g}"]
    if gear.over_tips:
        words.append(f"across {_length(wheel.over_tips)}")
    if gear.span_over is not None and not wheel.inside:
        words.append(f"span {_length(wheel.span(gear.span_over))} over {gear.span_over}")
    if abs(wheel.shift) > 5e-4:
        words.append(f"shift {wheel.shift:.3f}".rstrip("0"))
    if wheel.helix:
        hand = "left" if wheel.left else "right"
        words.append(f"helix {math.degrees(wheel.helix):.4g}\u00b0 {hand}-handed")
    if gear.backlash:
        words.append(f"backlash {_length(wheel.thinner)}")
    return words


def _length(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") or "0"
