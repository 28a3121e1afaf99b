"""Gears and racks measured back: teeth, tips and feet, spans, helix and play against the closed forms of
ISO 53 and ISO 21771."""

from __future__ import annotations

import math
from typing import Any

import pytest
from msgspec.structs import replace

from .again import found, wrong_when

PLAIN = """recipe "wheel of a hand mixer"
gear wheel
    teeth {teeth}
    module 1.5
    shift {shift}
    backlash 0.05
    thick 6
"""
LEANING = """recipe "wheel of a window winder"
gear wheel
    teeth 21
    helix {lean} {hand}-handed
    module 1.0
    thick 8.0
"""
RING = """recipe "ring of a salt mill"
gear ring
    teeth 41
    module 1
    inside
    rim 52
    thick 8
    helix 10 left-handed
"""
READ = """recipe "wheel of a salad spinner"
gear wheel
    teeth 43
    across 44.97 +-0.05
    span 13.86 +-0.05 over 5
    backlash 0.15
    thick 6.0
"""
BAR = """recipe "rack of a desk lamp"
block bar
    long 80
    high 30
    thick 5
    rack top module 1.5 teeth 12 first at 12 backlash 0.15
    rack right pitch 7.9 over 2
"""


@pytest.mark.parametrize(("teeth", "shift"), [(9, 0.4), (17, 0.3), (30, 0.0), (31, -0.2)])
def test_a_wheel_is_of_the_standard(teeth: int, shift: float) -> None:
    seen = found(PLAIN.format(teeth=teeth, shift=shift), "wheel")
    assert seen[f"teeth {teeth} [count]"] == teeth
    assert seen["module 1.5 [size]"] == pytest.approx(1.5, abs=1e-4)
    assert seen[f"shift {shift} [number]"] == pytest.approx(shift, abs=1e-4)
    assert seen["backlash 0.05 [number]"] == pytest.approx(0.05, abs=1e-4)
    assert seen["thick 6 [size]"] == pytest.approx(6, abs=1e-4)
    assert seen[f"teeth {teeth} [root]"] == pytest.approx(1.5 * teeth + 3 * (shift - 1.25), abs=1e-4)


@pytest.mark.parametrize("lean", [12, 30])
@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_lean_is_found_with_its_hand(lean: int, hand: str) -> None:
    seen = found(LEANING.format(lean=lean, hand=hand), "wheel")
    assert seen[f"helix {lean} {hand}-handed [angle]"] == pytest.approx(lean, abs=0.01)
    assert seen["module 1.0 [size]"] == pytest.approx(1, abs=1e-4)
    pitch = 21 / math.cos(math.radians(lean))
    assert seen["teeth 21 [tip]"] == pytest.approx(pitch + 2, abs=2e-3)


def test_a_ring_is_seen_by_its_spaces() -> None:
    seen = found(RING, "ring")
    assert seen["teeth 41 [count]"] == 41
    assert seen["rim 52 [size]"] == pytest.approx(52, abs=1e-4)
    pitch = 41 / math.cos(math.radians(10))
    assert seen["teeth 41 [root]"] == pytest.approx(pitch + 2.5, abs=1e-3)
    assert seen["teeth 41 [backlash]"] == pytest.approx(0.1, abs=1e-3)


def test_readings_over_teeth_are_met() -> None:
    """W over 5 of 43 teeth of module 1 is 13.887 (cos 20 (4.5 pi + 43 inv 20)), less 0.15 cos 20 of play;
    jaws over the tips of an odd count read less than 45."""
    seen = found(READ, "wheel")
    inv = math.tan(math.radians(20)) - math.radians(20)
    span = math.cos(math.radians(20)) * (4.5 * math.pi + 43 * inv - 0.15)
    assert seen["span 13.86 +- 0.05 over 5 [size]"] == pytest.approx(span, abs=1e-4)
    across = seen["across 44.97 +- 0.05 [size]"]
    assert across is not None
    assert 45 * math.cos(0.5 * math.pi / 43) < across < 45


@pytest.mark.parametrize(
    ("field", "slot"),
    [
        ("module", "module [size]"),
        ("shift", "shift [number]"),
        ("thinner", "backlash [number]"),
        ("teeth", "teeth [count]"),
    ],
)
def test_a_gear_built_otherwise_is_found(field: str, slot: str) -> None:
    def change(gear: Any) -> Any:
        wheel = gear.found.gear
        value = getattr(wheel, field) + 1 if field == "teeth" else 1.15 * getattr(wheel, field)
        return replace(gear, found=replace(gear.found, gear=replace(wheel, **{field: value})))

    assert slot in wrong_when(PLAIN.format(teeth=17, shift=0.3), "wheel", change)


def test_racks_are_found_by_their_flanks() -> None:
    seen = found(BAR, "bar")
    line = "rack top module 1.5 teeth 12 first at 12 backlash 0.15"
    for key, value in {"count": 12, "first": 12, "number": 1.5, "play": 0.15, "depth": 2.25 * 1.5}.items():
        assert seen[f"{line} [{key}]"] == pytest.approx(value, abs=1e-4), key
    line = "rack right pitch 7.9 over 2"
    assert seen[f"{line} [play]"] == pytest.approx(0.1, abs=1e-4)
    assert seen[f"{line} [readings]"] == pytest.approx(2 * math.pi * 1.25, abs=1e-4)


@pytest.mark.parametrize("gap", [0, 5, 12])
def test_a_gap_of_a_rack_that_stands_elsewhere_is_found(gap: int) -> None:
    def change(block: Any) -> Any:
        which = next(k for k, rack in enumerate(block.racks) if rack.found.where == "top")
        racks, rack = list(block.racks), block.racks[which]
        gaps = [at + 0.05 * (k == gap) for k, at in enumerate(rack.row.gaps)]
        racks[which] = replace(rack, row=replace(rack.row, gaps=tuple(gaps)))
        return replace(block, racks=tuple(racks))

    assert wrong_when(BAR, "bar", change)
