"""The report: exact keys and numbers of the JSON, and a table that lines up."""

from __future__ import annotations

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics.cells import columns
from makegood.mesh.types import Figures
from makegood.outputs import Feature, PartReport, report_json, report_text
from makegood.outputs.tables import rounded
from makegood.quantities import Standing
from msgspec.structs import replace

FIGURES = Figures((-1.0, 0.0, 0.0), (29.0, 20.0, 4.0), 2400.0 - 1e-9, 1600.00000049, True, 1, 2, 1234)
PIVOT = Feature("pivot", "bore", "base", 11.05, -1e-9, 4.0, 5.9, Standing.READ)
HEEL = Feature("heel", "point", "base", 1.0 / 3.0, 20.0, 4.0, None, Standing.ABOUT)
REPORT = PartReport(
    "lid hinge", "hinge.mend", FIGURES, "PETG", 1.27, 3.048, (PIVOT, HEEL), 2, ("wall 1.2 mm",)
)


def test_the_json_says_exactly_this():
    assert json.loads(report_json(REPORT)) == {
        "title": "lid hinge",
        "measured": [],
        "ways": {},
        "box": [30.0, 20.0, 4.0],
        "volume_mm3": 2400.0,
        "area_mm2": 1600.0,
        "watertight": True,
        "pieces": 1,
        "genus": 2,
        "triangles": 1234,
        "mass_g": 3.048,
        "plastic": "PETG",
        "features": {
            "pivot": {
                "kind": "bore",
                "plane": "base",
                "x": 11.05,
                "y": 0.0,
                "z": 4.0,
                "across": 5.9,
                "standing": "read",
                "place": None,
            },
            "heel": {
                "kind": "point",
                "plane": "base",
                "x": 0.333333,
                "y": 20.0,
                "z": 4.0,
                "across": None,
                "standing": "about",
                "place": None,
            },
        },
        "off": 2,
        "other_hand": False,
        "angles": {},
        "sizes": {},
    }


def test_keys_are_sorted_and_order_of_features_does_not_matter():
    text = report_json(REPORT)
    assert text == json.dumps(json.loads(text), sort_keys=True, indent=2) + "\n"
    assert text == report_json(replace(REPORT, features=(HEEL, PIVOT)))
    assert "-0.0" not in text
    assert text.isascii()


def test_what_is_not_known_is_null():
    said = json.loads(report_json(replace(REPORT, plastic=None, density=None, mass_g=None, features=())))
    assert (said["plastic"], said["mass_g"], said["features"]) == (None, None, {})


def test_no_number_and_no_second_thing_of_one_name_gets_through():
    with pytest.raises(ValueError, match="JSON"):
        report_json(replace(REPORT, mass_g=math.nan))
    with pytest.raises(ValueError, match="one name"):
        report_json(replace(REPORT, features=(PIVOT, PIVOT)))


@given(st.floats(-1e6, 1e6) | st.sampled_from([-0.0, -4e-7, -5e-7]))
def test_rounding_is_near_stays_put_and_knows_no_minus_zero(value):
    once = rounded(value)
    assert abs(once - value) <= 5.01e-7
    assert rounded(once) == once
    assert once != 0.0 or not math.copysign(1.0, once) < 0


def test_the_table_reads_like_this():
    assert report_text(REPORT) == (
        "lid hinge\n"
        "  recipe   hinge.mend\n"
        "  size     30.00 x 20.00 x 4.00 mm\n"
        "  volume   2.40 cm3\n"
        "  surface  16.00 cm2\n"
        "  mass     3.05 g printed solid in PETG at 1.27 g/cm3, 6.10 g for 2\n"
        "  solid    watertight, 1 piece, 2 openings through, 1234 triangles\n"
        "  make     off 2\n"
        "\n"
        "  name   kind   plane      x      y     z  across  standing\n"
        "  pivot  bore   base   11.05   0.00  4.00    5.90  read\n"
        "  heel   point  base    0.33  20.00  4.00       -  about\n"
        "\n"
        "  note: wall 1.2 mm\n"
    )


@pytest.mark.parametrize(
    ("change", "row"),
    [
        ({"plastic": None, "density": None, "mass_g": None}, None),
        ({"mass_g": None}, "  plastic  PETG at 1.27 g/cm3"),
        ({"copies": 1}, "  mass     3.05 g printed solid in PETG at 1.27 g/cm3"),
        ({"plastic": None, "copies": 1}, "  mass     3.05 g printed solid at 1.27 g/cm3"),
    ],
)
def test_only_what_is_known_is_said(change, row):
    rows = report_text(replace(REPORT, **change)).splitlines()
    told = [each for each in rows if each.startswith(("  mass", "  plastic"))]
    assert told == ([] if row is None else [row])


def test_an_open_mesh_is_said_loudly():
    assert "NOT watertight" in report_text(replace(REPORT, figures=replace(FIGURES, watertight=False)))


@given(st.lists(st.text(min_size=1, max_size=12), min_size=1, max_size=5, unique=True))
def test_columns_line_up_and_nothing_harmful_gets_out_whatever_the_names(names):
    features = tuple(replace(PIVOT, name=name) for name in names)
    report = PartReport("a\x1b[31mb", "r.mend", FIGURES, features=features)
    text = report_text(report)
    assert all(mark == "\n" or mark.isprintable() or mark == "\u3000" for mark in text if ord(mark) < 128)
    rows = text.split("\n")
    table = rows[rows.index("") + 1 : -1]
    assert len(table) == len(names) + 1
    assert len({columns(row[: row.rindex("  ")]) for row in table}) == 1
