"""Clearance holes of ISO 273 and tapping drills of ISO 2306 through whole recipes: report and mesh.

The rows were typed from published tables that agree with one another (ISO 273:1979, fine H12, medium H13,
coarse H14; ISO 2306 for coarse threads of ISO 261); the priced standards were not read."""

from __future__ import annotations

import json
from functools import cache

import pytest
from makegood.outputs.report import report_json
from makegood.result import Result

from .making import made, passing, widest

ISO_273 = {
    "M1.6": (1.7, 1.8, 2.0),
    "M2": (2.2, 2.4, 2.6),
    "M2.5": (2.7, 2.9, 3.1),
    "M3": (3.2, 3.4, 3.6),
    "M3.5": (3.7, 3.9, 4.2),
    "M4": (4.3, 4.5, 4.8),
    "M5": (5.3, 5.5, 5.8),
    "M6": (6.4, 6.6, 7.0),
    "M7": (7.4, 7.6, 8.0),
    "M8": (8.4, 9.0, 10.0),
    "M10": (10.5, 11.0, 12.0),
    "M12": (13.0, 13.5, 14.5),
}
ISO_2306 = {
    "M1.6": 1.25,
    "M2": 1.6,
    "M2.5": 2.05,
    "M3": 2.5,
    "M3.5": 2.9,
    "M4": 3.3,
    "M5": 4.2,
    "M6": 5.0,
    "M7": 6.0,
    "M8": 6.8,
    "M10": 8.5,
    "M12": 10.2,
}
SERIES = ("fine", "medium", "coarse")
CASES = {
    f"clears {size} {series}": row[k] for size, row in ISO_273.items() for k, series in enumerate(SERIES)
}
CASES |= {f"clears {size}": row[1] for size, row in ISO_273.items()}
CASES |= {f"bites {size}": drill for size, drill in ISO_2306.items()}


@cache
def strip_of_holes() -> Result:
    """One long bar with a hole for every row of both tables."""
    bar = f"block bar\n    long {20.0 * len(CASES):.1f}\n    wide 20.0\n    thick 2.0\n"
    holes = [
        (
            f"bore h{i}\n    {fact}\n    from bar.left centre {20.0 * i + 10.0:.1f}\n"
            "    from bar.bottom centre 10.0\n"
        )
        for i, fact in enumerate(CASES)
    ]
    return made(bar + "".join(holes), 0.002)


@cache
def reported() -> dict[str, dict[str, object]]:
    return json.loads(report_json(strip_of_holes().report()))["features"]


@pytest.mark.parametrize(("at", "fact"), list(enumerate(CASES)))
def test_hole_has_the_tables_size_in_the_report_and_on_the_mesh(at: int, fact: str) -> None:
    want = CASES[fact]
    assert reported()[f"h{at}"]["across"] == pytest.approx(want, abs=1e-9)
    result = strip_of_holes()
    assert want - 1e-6 <= passing(result, f"h{at}") <= want + 1e-5  # a pin of that size just goes
    assert (
        widest(result, f"h{at}") <= want + 2 * 0.002 + 1e-6
    )  # and the corners stand out by the chord at most


def test_tapping_drill_is_diameter_less_pitch() -> None:
    """ISO 2306's rule for coarse threads, to the nearest drill of 0.05 (ISO 261 pitches)."""
    pitch = {
        "M2": 0.4,
        "M2.5": 0.45,
        "M3": 0.5,
        "M3.5": 0.6,
        "M4": 0.7,
        "M5": 0.8,
        "M6": 1.0,
        "M7": 1.0,
        "M8": 1.25,
        "M10": 1.5,
        "M12": 1.75,
    }
    for size, p in pitch.items():
        assert abs(ISO_2306[size] - (float(size[1:]) - p)) <= 0.051


@pytest.mark.parametrize(("fact", "text"), [("clears", "clears M4 fine"), ("bites", "bites M3")])
def test_a_peg_or_slot_takes_the_same_sizes(fact: str, text: str) -> None:
    """A slot for an M4 screw is as wide as its clearance hole."""
    want = {"clears": 4.3, "bites": 2.5}[fact]
    slot = made(
        "block b\n    long 40.0\n    wide 20.0\n    thick 2.0\n"
        f"slot s\n    {text}\n    long 12.0\n    around b\n"
    )
    found = json.loads(report_json(slot.report()))["features"]["s"]["across"]
    assert found == pytest.approx(want, abs=1e-9)
