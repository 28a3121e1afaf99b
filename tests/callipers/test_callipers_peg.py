"""Pegs, toothed bores and strips measured back."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from .again import found, larger, wrong_when

PEGS = """recipe "foot of a lamp"
block foot
    long 60
    wide 60
    thick 12
neighbour pipe
    across 6
peg stud
    on foot.front
    at 20, 20 from foot
    hex 8
    turned 20
    high 10
    bevel 0.6
peg pointer
    on foot.front
    at -20, 20 from foot
    across 9
    serrated 14 deep 0.6
    turned 7
    high 8
    bevel 0.5 at tip
peg key
    on foot.front
    at 20, -20 from foot
    across 7
    flat 5.5 facing right
    high 6
peg plug
    on foot.front
    at -20, -20 from foot
    slides on pipe
    high 9
bore socket
    across 8
    splines 10 deep 0.7
    at 0, 0 from foot
    through foot
"""
HOOK = """recipe "hook of a hall rail"
point head
    at 0, 0
point heel
    at 0, -50
point toe
    at 22, -50
point nose
    at 22, -30
strip shank
    thick 4.0
    wide 14.0
    path head, heel, toe, nose
    {side} on path
    turns inside 5.0
"""


def test_pegs_are_what_they_were_said() -> None:
    for name, told in {
        "stud": {"hex 8 [size]": 8, "turned 20 [angle]": 20, "high 10 [size]": 10, "bevel 0.6 [number]": 0.6},
        "pointer": {
            "across 9 [size]": 9,
            "serrated 14 deep 0.6 [count]": 14,
            "serrated 14 deep 0.6 [depth]": 0.6,
            "turned 7 [angle]": 7,
            "bevel 0.5 at tip [number]": 0.5,
        },
        "key": {"across 7 [size]": 7, "flat 5.5 facing right [size]": 5.5, "high 6 [size]": 6},
        "socket": {
            "across 8 [size]": 8,
            "splines 10 deep 0.7 [count]": 10,
            "splines 10 deep 0.7 [depth]": 0.7,
        },
    }.items():
        seen = found(PEGS, name)
        for line, value in told.items():
            assert seen[line] == pytest.approx(value, abs=1e-3), (name, line)


def test_a_peg_is_as_wide_as_its_fit_makes_it() -> None:
    seen = found(PEGS, "plug")
    across = seen["slides on pipe [meant]"]
    assert across is not None
    assert 5 < across < 6


@pytest.mark.parametrize(("name", "field", "slot"), [("stud", "high", "high [size]")])
def test_a_peg_built_otherwise_is_found(name: str, field: str, slot: str) -> None:
    def change(peg: Any) -> Any:
        return replace(peg, **{field: 1.1 * getattr(peg, field)})

    assert slot in wrong_when(PEGS, name, change)


def test_a_bevel_built_otherwise_is_found() -> None:
    def change(peg: Any) -> Any:
        return replace(peg, front_bevel=1.1 * peg.front_bevel)

    assert wrong_when(PEGS, "stud", change) == {"bevel [number]"}


@pytest.mark.parametrize("side", ["outside", "inside", "middle"])
def test_a_strip_is_measured_between_its_faces(side: str) -> None:
    seen = found(HOOK.format(side=side), "shank")
    assert seen["thick 4.0 [size]"] == pytest.approx(4, abs=1e-4)
    assert seen["wide 14.0 [size]"] == pytest.approx(14, abs=1e-4)
    assert seen["turns inside 5.0 [size]"] == pytest.approx(5, abs=1e-3)


@pytest.mark.parametrize(
    ("field", "slot"), [("thick", "thick [size]"), ("turns_inside", "turns [size]"), ("high", "wide [size]")]
)
def test_a_strip_built_otherwise_is_found(field: str, slot: str) -> None:
    def change(strip: Any) -> Any:
        value = getattr(strip, field)
        return replace(strip, **{field: 1.1 * value if isinstance(value, float) else larger(value)})

    assert slot in wrong_when(HOOK.format(side="outside"), "shank", change)
