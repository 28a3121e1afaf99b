"""Pockets for screws against the published rows they follow from, typed a second time.

Counterbores: diameters of two tables that follow DIN 974-1, depths of a shop table that lets the head lie 0.5
under (M3 to M12, no standard); ISO 4032 nuts and ISO 7089 washers: two to four tables each; heads of ISO
10642 and of ISO 7046: one to two each.  The priced standards were not read.  The play of 0.2 is common
practice, no source."""

from __future__ import annotations

import math

import pytest
from makegood.diagnostics.types import Trouble
from makegood.quantities.tables import SCREWS
from makegood.quantities.tables.pockets import PLAY, pocket

SIZES = ("M1.6", "M2", "M2.5", "M3", "M4", "M5", "M6", "M8", "M10", "M12")
DIN_974 = dict(zip(SIZES, (3.5, 4.4, 5.5, 6.5, 8.0, 10.0, 11.0, 15.0, 18.0, 20.0), strict=True))
HEIGHTS = dict(zip(SIZES, (1.6, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0), strict=True))  # ISO 4762, k
SHOP_DEPTHS = {"M3": 3.5, "M4": 4.5, "M5": 5.5, "M6": 6.5, "M8": 8.5, "M10": 10.5, "M12": 12.5}
NUT_FLATS = dict(
    zip(SIZES, (3.2, 4.0, 5.0, 5.5, 7.0, 8.0, 10.0, 13.0, 16.0, 18.0), strict=True)
)  # ISO 4032, largest s
NUT_HEIGHTS = dict(
    zip(SIZES, (1.3, 1.6, 2.0, 2.4, 3.2, 4.7, 5.2, 6.8, 8.4, 10.8), strict=True)
)  # ISO 4032, largest m
WASHERS = dict(
    zip(SIZES, (4.0, 5.0, 6.0, 7.0, 9.0, 10.0, 12.0, 16.0, 20.0, 24.0), strict=True)
)  # ISO 7089, largest d2
WASHERS_THICK = dict(zip(SIZES, (0.3, 0.3, 0.5, 0.5, 0.8, 1.0, 1.6, 1.6, 2.0, 2.5), strict=True))
ISO_10642 = {"M3": 6.72, "M4": 8.96, "M5": 11.2, "M6": 13.44, "M8": 17.92, "M10": 22.4, "M12": 26.88}
ISO_10642_HEIGHTS = {"M3": 1.86, "M4": 2.48, "M5": 3.1, "M6": 3.72, "M8": 4.96, "M10": 6.2, "M12": 7.44}
ISO_7046_HEIGHTS = {
    "M2": 1.2,
    "M2.5": 1.5,
    "M3": 1.65,
    "M3.5": 2.35,
    "M4": 2.7,
    "M5": 2.7,
    "M6": 3.3,
    "M8": 4.65,
    "M10": 5.0,
}
# The sharp edges of ISO 7046 heads as the table of head shapes gives them (ISO 7721, from memory): d + 2 k
# agrees.
ISO_7046_SHARP = {
    "M2": 4.4,
    "M2.5": 5.5,
    "M3": 6.3,
    "M3.5": 8.2,
    "M4": 9.4,
    "M5": 10.4,
    "M6": 12.6,
    "M8": 17.3,
    "M10": 20.0,
}


def test_every_counterbore_for_a_head():
    for name in SIZES:
        found = pocket("counterbore", name)
        assert (found.across, found.depth, found.standard) == (DIN_974[name], HEIGHTS[name] + 0.5, "ISO 4762")
    for name, depth in SHOP_DEPTHS.items():
        assert pocket("counterbore", name).depth == depth


def test_every_pocket_for_a_nut_and_a_washer():
    for name in SIZES:
        nut, washer = pocket("counterbore", name, "nut"), pocket("counterbore", name, "washer")
        assert nut == pocket("hex", name, "nut")
        assert (nut.across, nut.depth) == pytest.approx((NUT_FLATS[name] + 0.2, NUT_HEIGHTS[name]), abs=1e-9)
        assert (washer.across, washer.depth) == pytest.approx(
            (WASHERS[name] + 0.2, WASHERS_THICK[name]), abs=1e-9
        )
        assert (nut.standard, washer.standard) == ("ISO 4032", "ISO 7089")
        assert pytest.approx(0.2) == PLAY


def test_a_nut_goes_in_at_its_sharp_corners():
    """M3: 6.351 over the ideal corners of the largest nut (5.5 * 2 / sqrt 3)."""
    assert 5.5 * 2 / math.sqrt(3) == pytest.approx(6.351, abs=5e-4)
    for name in SIZES:
        assert pocket("counterbore", name, "nut").across * 2 / math.sqrt(3) > NUT_FLATS[name] * 2 / math.sqrt(
            3
        )


def test_every_countersink():
    """No head of either standard stands proud, and the wider of the two lies flush: M4 is the cross-recessed
    one's.
    """
    for name in {*ISO_10642, *ISO_7046_SHARP}:
        found = pocket("countersink", name)
        socket, cross = ISO_10642.get(name, 0.0), ISO_7046_SHARP.get(name, 0.0)
        assert found.across == pytest.approx(max(socket, cross), abs=1e-9)
        assert found.standard == ("ISO 10642" if socket > cross else "ISO 7046")
    assert pocket("countersink", "M4").standard == "ISO 7046"


def test_a_sunk_head_is_half_as_high_as_its_sharp_edge_is_wider_than_its_thread():
    for name in {*ISO_10642, *ISO_7046_SHARP}:
        height = max(ISO_10642_HEIGHTS.get(name, 0.0), ISO_7046_HEIGHTS.get(name, 0.0))
        assert (pocket("countersink", name).across - float(name[1:])) / 2 == pytest.approx(height, abs=1e-9)


def test_every_pocket_has_room_for_the_widest_hole_of_its_screw():
    """What stands in the pocket must rest on something: it is wider than the coarse hole of ISO 273."""
    for name in SIZES:
        for which in ("", "nut", "washer"):
            coarse = SCREWS[name].clearance.coarse
            assert pocket("counterbore", name, which).across > coarse


@pytest.mark.parametrize(
    ("word", "name", "which", "says", "known"),
    [
        ("counterbore", "M7", "", "the tables give no `counterbore M7`", ", ".join(SIZES)),
        ("counterbore", "M3.5", "nut", "the tables give no `counterbore M3.5 nut`", ", ".join(SIZES)),
        ("hex", "M7", "nut", "the tables give no `hex M7 nut`", ", ".join(SIZES)),
        (
            "countersink",
            "M1.6",
            "",
            "the tables give no `countersink M1.6`",
            "M2, M2.5, M3, M3.5, M4, M5, M6, M8, M10, M12",
        ),
        ("counterbore", "M300", "washer", "no screw is called 'M300'", ", ".join(SIZES)),
    ],
)
def test_what_no_table_has_is_answered_with_what_they_have(
    word: str, name: str, which: str, says: str, known: str
):
    with pytest.raises(Trouble) as caught:
        pocket(word, name, which)
    assert caught.value.code == "unknown-screw"
    assert caught.value.says == says
    assert f"known are {known}" in caught.value.advice
