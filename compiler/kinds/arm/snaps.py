"""The snap joint that an arm is: bent by the undercut of its nose over its length."""

from __future__ import annotations

from collections.abc import Iterator

from ...checks.snaps import LYING, Layers, Snap, SnapBench, long_or_thin
from ...quantities.snaps import arm_strain, length_for, thickness_for
from .model import Arm


def joints(arm: Arm, bench: SnapBench) -> Iterator[Snap]:
    """The one joint.  An arm that stands up from the bed bends across its layers."""
    sizes, leans = arm.sizes, bench.leans(arm.frame.out)
    across = leans is None or leans > LYING
    stuff = bench.stuff(across)
    layers = Layers(
        across,
        leans is None,
        "it is taken to stand up from the bed, its layers across what bends",
        "print it lying, so that its layers run along what bends:  prints on ...",
    )
    often = stuff.takes.often
    yield Snap(
        f"arm `{arm.name}`",
        f"gives way {sizes.nose:g} over {sizes.long:g}",
        arm_strain(sizes.nose, sizes.long, sizes.thick, sizes.tip),
        stuff,
        layers,
        long_or_thin(
            length_for(sizes.nose, sizes.thick, often, sizes.tip),
            thickness_for(sizes.nose, sizes.long, often, sizes.tip, sizes.thick),
        ),
        arm.span,
    )
