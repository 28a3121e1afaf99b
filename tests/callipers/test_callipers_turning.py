"""Turnings measured back: stations, what is worked into them, and that what is built otherwise is found."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from msgspec.structs import replace

from .again import found, larger, more, wrong_when

ROLLER = """recipe "roller of a towel rail"
turning roller
    across 20.0 from 0 to 30.0
    taper 20.0 at 30.0, 10.0 at 40.0
    across 12.0 from 38 to 50
    groove 16 from 4 to 6
    bored 6 from 0 to 20
    bored taper 6.0 at 20, 0 at 23
    bead 23 at 12 wide 3
    cove 17 at 20 wide 3
    vee 18 at 25 wide 2
    bevel 1 at 0
    bevel inside 0.5 at 0
    round 1 at 50
"""
LYING = ROLLER.replace(
    "turning roller\n",
    "line axis\n    level\npoint start\n    on axis\nturning roller\n    lies along axis from start\n",
)
KNOB = """recipe "knob of a heater"
turning knob
    across 40.0 from 0 to 10.0
    across 24.0 from 10.0 to 30.0
    across 16 from 30 to 44
    diamond 48 deep 0.5 from 2 to 8
    splines 12 deep 1 from 12 to 18
    serrated 30 deep 0.8 from 20 to 26
    hex 14 from 34 to 40
    flat 15 from 41 to 44 facing top
    hollow 1 at 10
"""


@pytest.mark.parametrize("text", [ROLLER, LYING], ids=["standing", "lying"])
def test_stations_are_found_where_they_are(text: str) -> None:
    seen = found(text, "roller")
    for line, sizes in {
        "across 20.0 from 0 to 30.0": {"size": 20, "start": 0, "stop": 30},
        "taper 20.0 at 30.0, 10.0 at 40.0": {"first": 20, "second": 10, "start": 30},
        "across 12.0 from 38 to 50": {"size": 12, "start": 38, "stop": 50},
        "groove 16 from 4 to 6": {"size": 16, "start": 4, "stop": 6},
        "bored 6 from 0 to 20": {"size": 6, "start": 0, "stop": 20},
        "bored taper 6.0 at 20, 0 at 23": {"first": 6, "second": 0, "start": 20, "stop": 23},
        "bead 23 at 12 wide 3": {"size": 23, "station": 12, "wide": 3},
        "cove 17 at 20 wide 3": {"size": 17, "station": 20, "wide": 3},
        "vee 18 at 25 wide 2": {"size": 18, "station": 25, "wide": 2},
        "bevel 1 at 0": {"number": 1, "station": 0},
        "bevel inside 0.5 at 0": {"number": 0.5, "station": 0},
        "round 1 at 50": {"number": 1, "station": 50},
    }.items():
        for key, value in sizes.items():
            assert seen[f"{line} [{key}]"] == pytest.approx(value, abs=1e-4), (line, key)


def test_an_end_under_a_larger_stretch_is_told_not_guessed() -> None:
    assert found(ROLLER, "roller")["taper 20.0 at 30.0, 10.0 at 40.0 [stop]"] is None


def test_grips_are_counted_and_measured() -> None:
    seen = found(KNOB, "knob")
    for line, sizes in {
        "diamond 48 deep 0.5 from 2 to 8": {"count": 48, "depth": 0.5, "start": 2, "stop": 8},
        "splines 12 deep 1 from 12 to 18": {"count": 12, "depth": 1, "start": 12, "stop": 18},
        "serrated 30 deep 0.8 from 20 to 26": {"count": 30, "depth": 0.8, "start": 20, "stop": 26},
        "hex 14 from 34 to 40": {"size": 14, "start": 34, "stop": 40},
        "flat 15 from 41 to 44 facing top": {"size": 15, "start": 41, "stop": 44},
        "hollow 1 at 10": {"number": 1, "station": 10},
    }.items():
        for key, value in sizes.items():
            assert seen[f"{line} [{key}]"] == pytest.approx(value, abs=2e-4), (line, key)


def _station(kind: str, which: int, **fields: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """A change of some fields of a part of a turning."""

    def changed(turning: Any) -> Any:
        some = list(getattr(turning, kind))
        one = some[which]
        some[which] = replace(one, **{name: change(getattr(one, name)) for name, change in fields.items()})
        return replace(turning, **{kind: tuple(some)})

    return changed


def test_a_turning_built_otherwise_is_found() -> None:
    for slot, change in {
        "groove [size]": _station("grooves", 0, first=larger, second=larger),
        "groove [start]": _station("grooves", 0, start=more),
        "groove [stop]": _station("grooves", 0, stop=more),
        "bead [size]": _station("shaped", 0, size=larger),
        "bead [station]": _station("shaped", 0, station=more),
        "bead [wide]": _station("shaped", 0, wide=larger),
        "round [number]": _station("eased", -1, size=larger),
    }.items():
        assert slot in wrong_when(ROLLER, "roller", change), slot


def test_grips_built_otherwise_are_found() -> None:
    for word, slots in {"splines": ("depth", "start", "stop"), "diamond": ("depth",)}.items():
        for slot in slots:
            name, by = ("depth", larger) if slot == "depth" else (slot, more)

            def change(turning: Any, word: str = word, name: str = name, by: Any = by) -> Any:
                which = next(k for k, one in enumerate(turning.grips) if one.word == word)
                return _station("grips", which, **{name: by})(turning)

            assert f"{word} [{slot}]" in wrong_when(KNOB, "knob", change), (word, slot)
    fewer = _station("grips", 0, count=lambda count: count - 1)
    assert "diamond [count]" in wrong_when(KNOB, "knob", fewer)
