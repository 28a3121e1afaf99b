"""The sizes of a turning's stations are readings like all others: several, `made`, `wanted`, with their
give-or-take.
"""

from __future__ import annotations

import json
import math

import makegood
import pytest
from makegood.outputs.paper import Outcome, checks, drawing_sheet
from makegood.outputs.paper.marks import Text
from makegood.outputs.report import report_json, report_text

from .making import made, said

HEAD = 'recipe "wheel"\n    readings +-0.05\n'
WHEEL = HEAD + (
    "turning wheel\n    across 15.9 +-0.1, 16.1 +-0.1 from 0 to 3.0\n"
    "    across 49.0 made 48.0 from 3.0 +-0.7 to 17.0\n"
    "    across 14.0 +-0.3 from 17.0 to 20.0 wanted\n    bored 6.0 wanted from 0 to 20.0 wanted\n"
)


def recorded(text: str) -> dict[str, dict[str, object]]:
    sizes = json.loads(report_json(makegood.compile_text(text).report()))["sizes"]
    assert isinstance(sizes, dict)
    return sizes


def refused(text: str) -> list[str]:
    result = makegood.compile_text(HEAD + text)
    assert not result.ok
    return said(result)


def test_several_readings_of_a_diameter_are_averaged():
    result = made(HEAD + "turning bush\n    across 15.9 +-0.1, 16.1 +-0.1 from 0 to 12.0\n")
    assert result.figures.box == pytest.approx((16.0, 16.0, 12.0), abs=1e-6)


def test_the_surer_reading_of_a_diameter_weighs_more():
    """Weighed by 1 / u2 (JCGM 100, F.2.3.3): (4 x 15.9 + 16.1) / 5 = 15.94."""
    result = made(HEAD + "turning bush\n    across 15.9 +-0.1, 16.1 +-0.2 from 0 to 12.0\n")
    assert result.figures.box[0] == pytest.approx(15.94, abs=1e-6)


def test_tapers_bores_and_grooves_of_averaged_readings():
    """A frustum from 26 to 24, bored 10 and bored conically from 12 to 10, a groove of 20 cut from 22 (closed
    forms).
    """
    text = (
        "turning knob\n    taper 25.9, 26.1 at 0, 23.9, 24.1 at 12.0\n"
        "    across 21.95, 22.05 from 12.0 to 20.0\n"
        "    groove 19.95, 20.05 from 14.0 to 16.0\n    bored 9.95, 10.05 from 5.0 to 20.0\n"
        "    bored taper 11.9, 12.1 at 0, 9.9, 10.1 at 5.0\n"
    )
    cone = math.pi / 3.0 * 12.0 * (13.0**2 + 13.0 * 12.0 + 12.0**2)
    rest = math.pi * (11.0**2 * 6.0 + 10.0**2 * 2.0)
    bored = math.pi / 3.0 * 5.0 * (6.0**2 + 6.0 * 5.0 + 5.0**2) + math.pi * 5.0**2 * 15.0
    short = cone + rest - bored - made(HEAD + text, 0.002).figures.volume
    assert 0.0 < short < 0.002 * 2.0 * math.pi * (13.0 * 20.0 + 6.0 * 20.0)


def test_made_is_made_and_read_is_measured_from():
    """A point 3 past the rim of 49 as it was read lies 27.5 from the axis, though 48 is made."""
    text = WHEEL + "point p\n    level with wheel\n    from wheel near 3.0\n    right of wheel\n"
    result = made(
        text + "bore hole\n    across 2.0\n    level with wheel\n    from p centre 15.0\n    left of p\n"
    )
    assert result.figures.box == pytest.approx((48.0, 48.0, 20.0), abs=1e-6)
    at = {one.name: one.x for one in result.report().features}
    assert at["hole"] - at["wheel"] == pytest.approx(24.5 + 3.0 - 15.0, abs=1e-6)


def test_the_report_has_every_size_as_read_and_as_made():
    """U = 2 u, u = limit / sqrt 3 (JCGM 100, 4.3.7); of two equal readings u / sqrt 2."""
    sizes = recorded(WHEEL)
    assert set(sizes) == {
        "wheel.across from 0 to 3",
        "wheel.across from 3 to 17",
        "wheel.across from 17 to 20",
        "wheel.bored from 0 to 20",
        "wheel.at 3",
        "wheel.at 17",
        "wheel.at 20",
    }
    for name, shown, read, limit, standing in (
        ("across from 0 to 3", 16.0, 16.0, 0.1 / math.sqrt(2), "read"),
        ("across from 3 to 17", 48.0, 49.0, 0.05, "wanted"),
        ("across from 17 to 20", 14.0, 14.0, 0.3, "read"),
        ("bored from 0 to 20", 6.0, None, None, "wanted"),
        ("at 3", 3.0, 3.0, 0.7, "read"),
        ("at 17", 17.0, 17.0, 0.05, "read"),
        ("at 20", 20.0, None, 0.0, "wanted"),
    ):
        one = sizes[f"wheel.{name}"]
        assert (one["made"], one["standing"]) == (pytest.approx(shown), standing)
        if limit is not None:
            assert (one["read"], one["U"]) == (
                pytest.approx(read),
                pytest.approx(2.0 * limit / math.sqrt(3), abs=1e-6),
            )
    rows = [row.split() for row in report_text(makegood.compile_text(WHEEL).report()).split("\n")]
    assert ["wheel", "across", "from", "3", "to", "17", "48.00", "49.00", "0.06", "wanted"] in rows
    assert ["wheel", "at", "3", "3.00", "3.00", "0.81", "read"] in rows


def test_sizes_of_shapes_and_flats_are_recorded_and_two_of_one_name_are_told_apart():
    text = (
        HEAD + "turning bar\n    across 20.0 from 0 to 30.0\n    across 19.0 from 0 to 30.003\n"
        "    taper 18.0 +-0.2 at 30.0, 10 at 40\n"
        "    bead 24.0 at 4.0 wide 3.0\n    cove 18.0 at 10.0 wide 2.0\n"
        "    vee 17.0 at 15.0 wide 2.0\n    hex 17.0, 17.1 from 18.0 to 20.0\n"
        "    square 16.0 made 15.0 from 22.0 to 24.0\n    flat 18.0 from 26.0 to 28.0\n"
    )
    made(text)
    sizes = {name.removeprefix("bar."): one for name, one in recorded(text).items()}
    assert (sizes["across from 0 to 30"]["read"], sizes["across from 0 to 30.2"]["read"]) == (20.0, 19.0)
    assert sizes["taper at 30"]["U"] == pytest.approx(0.4 / math.sqrt(3), abs=1e-6)
    assert sizes["taper at 40"]["U"] == pytest.approx(0.1 / math.sqrt(3), abs=1e-6)
    assert sizes["bead at 4"]["read"] == 24.0
    assert [sizes[f"{one} wide"]["read"] for one in ("bead at 4", "cove at 10", "vee at 15")] == [
        3.0,
        2.0,
        2.0,
    ]
    assert sizes["hex from 18 to 20"]["read"] == pytest.approx(17.05)
    assert (sizes["square from 22 to 24"]["read"], sizes["square from 22 to 24"]["made"]) == (16.0, 15.0)
    assert sizes["flat from 26 to 28"]["read"] == 18.0


def test_the_drawing_has_what_was_read_with_its_give_or_take_and_what_is_wanted_with_the_general_tolerance():
    """ISO 2768-1, class m: 0.3 over 30 up to 120 mm, 0.2 over 6 up to 30, 0.1 up to 6."""
    texts = {
        one.text
        for one in drawing_sheet(makegood.compile_text(WHEEL)._scene()).marks
        if isinstance(one, Text)
    }
    assert {"Ø16 ±0.07", "Ø48 ±0.3", "Ø14 ±0.3", "Ø6 ±0.1", "3 ±0.7", "17 ±0.05", "20 ±0.2"} <= texts


def test_a_station_that_is_said_twice_is_as_sure_as_its_less_certain_reading():
    for one, other in (("3.0", "3.0 +-0.4"), ("3.0 +-0.4", "3.0")):
        sizes = recorded(HEAD + f"turning a\n    across 8 from 0 to {one}\n    across 6 from {other} to 9\n")
        assert sizes["a.at 3"]["U"] == pytest.approx(0.8 / math.sqrt(3), abs=1e-6)


def test_the_sheet_expects_what_is_made_and_says_what_to_write():
    """Within the general tolerance, or the give-or-take of the reading where that is larger."""
    result = makegood.compile_text(WHEEL)
    expected = {one.key: one for one in checks(result._scene())}
    for key, value, give in (
        ("across from 0 to 3", 16.0, 0.2),
        ("across from 3 to 17", 48.0, 0.3),
        ("across from 17 to 20", 14.0, 0.3),
        ("bored from 0 to 20", 6.0, 0.1),
    ):
        one = expected[f"wheel {key}"]
        assert (one.value, one.limits.low, one.limits.high) == pytest.approx(
            (value, value - give, value + give)
        )
    (verdict,) = result.verdicts("found wheel across from 3 to 17 47.0\n")
    assert verdict.outcome is Outcome.REPRINT
    assert "write `made 49` behind `across 49.0`" in verdict.advice
    (verdict,) = result.verdicts("found wheel across from 17 to 20 13.5\n")
    assert "write `made 14.5` behind `across 14.0 +- 0.3`" in verdict.advice
    (verdict,) = result.verdicts("found wheel bored from 0 to 20 6.5\n")
    assert "write `made 5.5` behind `bored 6.0`" in verdict.advice
    mended = WHEEL.replace("+-0.3 from", "+-0.3 made 14.5 from").replace("6.0 wanted", "6.0 made 5.5")
    assert makegood.compile_text(mended).ok


def test_readings_that_do_not_agree_are_told_size_by_size():
    agreeing = (
        HEAD + "turning t\n    taper 26.0, 26.1 at 3.0, 24.0, 24.05 at 18.0\n    cove 20.0 at 9.0 wide 2.0\n"
    )
    assert said(makegood.compile_text(agreeing)) == []
    (one,) = said(makegood.compile_text(agreeing.replace("24.05", "24.3")))
    assert (
        one
        == "stray-reading at 4: the readings of `taper` of `t` lie 0.3 apart, more than their give-or-take"
    )


def test_a_worn_diameter_is_not_copied_silently():
    worn = HEAD + "turning t\n    across 9.8 worn{} from 0 to 9.0\n    thread M8 from 2 to 9\n"
    assert [one.split(":")[0] for one in said(makegood.compile_text(worn.format("")))] == ["worn-copied at 4"]
    assert said(makegood.compile_text(worn.format(" made 10.0"))) == []


def test_which_diameter_of_a_turning_a_size_name_would_mean_is_open():
    text = "turning t\n    across 9.8 from 0 to 5.0\n    flat 8 from 0 to 2\n"
    text += "bore b\n    around t\n    {}\n    deep 3 from t.front\n"
    for line in ("across t.across - 4", "turns on t", "across t.flat"):
        (one,) = refused(text.format(line))
        assert one.startswith("unknown-part"), one
        assert "`t` gives no size" in one


def test_a_station_begins_where_another_ends_whatever_sum_says_so():
    """The double of 0.1 + 0.2 lies over that of 0.3 (IEEE 754)."""
    result = made(
        HEAD + "let a = 0.1\nturning t\n    across 10 from 0 to 0.3\n    across 12 from a + 0.2 to 5\n"
    )
    assert result.figures.box == pytest.approx((12.0, 12.0, 5.0), abs=1e-6)


def test_a_taper_may_end_in_a_point_and_no_size_is_less_than_nothing():
    tip = made(HEAD + "turning tip\n    taper 12.0 at 0, 0 at 9.0\n", 0.002).figures.volume
    assert tip == pytest.approx(math.pi * 36.0 * 9.0 / 3.0, rel=2e-3)
    for line in (
        "across 0 from 0 to 9",
        "across 4 made 0 from 0 to 9",
        "taper 4 at 0, -1 at 9",
        "across 4 from -2 to 9",
    ):
        assert refused(f"turning t\n    {line}\n")[0].startswith("bad-size"), line
    for line in ("across 4 deg from 0 to 9", "taper 4 at 0, 3 deg at 9", "across 4 from 0 to 9 deg"):
        assert refused(f"turning t\n    {line}\n")[0].startswith("wrong-unit"), line
