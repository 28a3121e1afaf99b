"""What a drawing says of a gear, in the words of the recipe with the sizes that the gear came to, and how its
teeth are measured.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...outputs.paper.amounts import wanted
from ...outputs.paper.dimensions import height
from ...outputs.paper.measuring import outside, plain
from ...outputs.paper.pointers import at_centre, often
from ...outputs.paper.types import Check, Dimension, Gauge, Note
from ...outputs.paper.views import Scene
from .model import GearBody


def notes(scene: Scene, gear: GearBody) -> Iterator[Note]:
    """Teeth, module and shift of the gear as made; of span, tips, helix, backlash what the recipe speaks
    of.
    """
    text = f"{often(scene, gear)}{gear.name} " + ", ".join(_told(gear))
    yield at_centre(scene, gear, text, gear.placed.half[1])


def _told(gear: GearBody) -> Iterator[str]:
    wheel = gear.wheel
    yield f"teeth {wheel.teeth}"
    yield f"module {wheel.module:.4g}"
    if gear.over_tips:
        yield f"across {_length(wheel.over_tips)}"
    if gear.span_over is not None and not wheel.inside:
        yield f"span {_length(wheel.span(gear.span_over))} over {gear.span_over}"
    if abs(wheel.shift) > 5e-4:
        yield f"shift {wheel.shift:.3f}".rstrip("0")
    if wheel.helix:
        yield f"helix {math.degrees(wheel.helix):.4g}\u00b0 {'left' if wheel.left else 'right'}-handed"
    if gear.backlash:
        yield f"backlash {_length(wheel.thinner)}"


def _length(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") or "0"


def sizes(scene: Scene, gear: GearBody) -> Iterator[Dimension]:
    """How thick it is."""
    yield from height(scene, gear, gear.thick)


def checks(scene: Scene, gear: GearBody) -> Iterator[Check]:
    """What is read over teeth and over the tips, and how thick it is."""
    wheel, name = gear.wheel, gear.name
    tips = wanted(wheel.over_tips)
    if wheel.inside:
        how = "inner jaws between the tips, at their widest"
        yield plain(f"{name} tips", Gauge.POCKET, how, tips, mates=True)
    else:
        over = wheel.spanned
        how = f"outer jaws over {over} teeth, flat on the flanks"
        yield plain(f"{name} span", Gauge.SIZE, how, wanted(wheel.span(over)), mates=True)
        yield plain(f"{name} tips", Gauge.SIZE, "outer jaws over the tips, at their widest", tips, mates=True)
    yield from outside(name, "thick", gear.thick)
