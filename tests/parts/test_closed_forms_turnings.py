"""Turnings compiled from their recipes against closed forms."""

from __future__ import annotations

from math import pi

import pytest

from .figures import disc, frustum
from .making import falls_short, made

TURNINGS = {
    "stepped": (
        "across 22.0 from 0 to 2.0\n    across 14.0 from 2.0 to 11.0",
        disc(22) * 2 + disc(14) * 9,
        600.0,
    ),
    "overlapping steps": (
        "across 22.0 from 0 to 5.0\n    across 14.0 from 2.0 to 11.0",
        disc(22) * 5 + disc(14) * 6,
        700.0,
    ),
    "bored": (
        "across 22.0 from 0 to 10.0\n    bored 10.0 from 0 to 10.0\n    bored 16.0 from 6.0 to 10.0",
        disc(22) * 10 - disc(10) * 6 - disc(16) * 4,
        1300.0,
    ),
    "cone": ("taper 20.0 at 0, 8.0 at 12.0", frustum(20.0, 8.0, 12.0), 700.0),
    "pointed": ("taper 20.0 at 0, 0 at 12.0", frustum(20.0, 0.0, 12.0), 500.0),
    "cone in cone": (
        "taper 20.0 at 0, 14.0 at 12.0\n    bored taper 10.0 at 4.0, 12.0 at 12.0",
        frustum(20.0, 14.0, 12.0) - frustum(10.0, 12.0, 8.0),
        1000.0,
    ),
    # Pappus: the groove's section 2.0 x 2.0 runs on a circle of diameter 28
    "groove": (
        "across 30.0 from 0 to 8.0\n    groove 26.0 from 3.0 to 5.0",
        disc(30) * 8 - 2.0 * 2.0 * pi * 28.0,
        1000.0,
    ),
    # Pappus: a bevel takes a triangle c^2/2 whose middle lies c/3 in from the corner
    "bevels": (
        (
            "across 14.0 from 0 to 9.0\n    bevel 0.5 at 9.0\n"
            "    bored 8.0 from 0 to 9.0\n    bevel inside 1.0 at 9.0"
        ),
        (disc(14) - disc(8)) * 9 - 0.125 * 2 * pi * (7 - 0.5 / 3) - 0.5 * 2 * pi * (4 + 1.0 / 3),
        800.0,
    ),
}


@pytest.mark.parametrize("name", TURNINGS)
def test_turnings_have_their_closed_form(name: str) -> None:
    text, exact, curved = TURNINGS[name]
    falls_short(made(f"turning t\n    {text}\n", 0.005), exact, curved, 0.005)
