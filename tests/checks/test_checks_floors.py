"""Floors of blind holes, against the difference of two numbers; and bodies that leave no face."""

from __future__ import annotations

import makegood
import pytest

BODY = 'recipe "foot"\nblock foot\n    long 30.0\n    wide 20.0\n    thick 6.0\n'
AT = "    from foot.left centre 15.0\n    from foot.bottom centre 10.0\n"


def told(text: str) -> list[str]:
    result = makegood.compile_text(text)
    assert result.ok, result.diagnostics
    return [
        one.headline
        for one in result.diagnostics
        if one.code in ("thin-floor", "adds-nothing", "hole-filled")
    ]


@pytest.mark.parametrize(
    ("deep", "side", "says"),
    [
        ("5.7", "front", "bore `pin` leaves a floor of only 0.30 mm: `foot` is 6.00 there"),
        ("5.7", "back", "bore `pin` leaves a floor of only 0.30 mm: `foot` is 6.00 there"),
        ("6.0", "front", "bore `pin` comes out on the other side: `foot` is 6.00 there"),
        ("8.0", "back", "bore `pin` comes out on the other side: `foot` is 6.00 there"),
    ],
)
def test_a_thin_floor_is_told(deep: str, side: str, says: str):
    assert told(BODY + f"bore pin\n    across 4.0\n    deep {deep} from {side}\n{AT}") == [says]


@pytest.mark.parametrize("deep", ["5.6", "3.0"])
def test_two_layers_are_enough(deep: str):
    assert told(BODY + f"bore pin\n    across 4.0\n    deep {deep} from front\n{AT}") == []


def test_a_deep_counterbore_is_told_at_its_own_line():
    text = BODY + f"bore pin\n    clears M4\n    counterbore 8 deep 5.8 at front\n{AT}"
    (one,) = [one for one in makegood.compile_text(text).diagnostics if one.code == "thin-floor"]
    assert "the counterbore of `pin` leaves a floor of only 0.20 mm" in one.headline
    assert one.span is not None
    assert one.span.line == 8


def test_a_body_that_goes_on_behind_the_floor_is_floor_enough():
    flush = "    flush with foot.left\n    flush with foot.bottom\n"
    lid = f"block lid\n    on foot.back\n    long 30.0\n    wide 20.0\n    thick 2.0\n{flush}"
    assert (
        told(BODY + lid + f"bore pin\n    across 4.0\n    deep 6.0 from foot.front\n    through foot\n{AT}")
        == []
    )


def test_a_body_inside_another_is_told():
    nose = (
        "block nose\n    long 8.0\n    wide 8.0\n    thick {}\n"
        "    flush with foot.left\n    flush with foot.bottom\n"
    )
    assert told(BODY + nose.format("3.0")) == [
        "`nose` lies wholly inside `foot`: it adds nothing to the part"
    ]
    assert told(BODY + nose.format("6.5")) == []


def test_a_hole_let_into_the_outline_and_filled_by_another_body_is_told():
    holes = "".join(
        f"bore b{k}\n    across 4.0\n    from foot.left centre {x}\n    from foot.bottom centre 10.0\n"
        for k, x in enumerate((7.0, 15.0, 23.0))
    )
    post = (
        "block post\n    long 6.0\n    wide 6.0\n    thick 9.0\n"
        "    from foot.left near {}\n    from foot.bottom near 7.0\n"
    )
    assert told(BODY + holes + post.format("20.0")) == ["`post` fills part of bore `b2`"]
    assert told(BODY + holes + post.format("25.5")) == []


@pytest.mark.parametrize(("screw", "floor"), [("M5", "0.30"), ("M6", None)])
def test_a_pocket_named_for_a_screw_is_as_deep_as_its_table_says(screw: str, floor: str | None):
    """5.5 deep for M5 in 5.8, 6.5 deep for M6."""
    body = BODY.replace("thick 6.0", "thick 5.8")
    says = f"leaves a floor of only {floor} mm" if floor else "comes out on the other side"
    assert told(body + f"bore pin\n    clears {screw}\n    counterbore {screw} at front\n{AT}") == [
        f"the counterbore of `pin` {says}: `foot` is 5.80 there"
    ]
    assert told(body + f"bore pin\n    clears {screw}\n    counterbore {screw} deep 5.4 at front\n{AT}") == []


HUB = """recipe "gear"
turning disc
    across 40.0 from 0 to 6.0
block hub
    on disc.front
    long {}
    wide 14.0
    thick 8.0
    at {}, 0 from disc
bore shaft
    around disc
    across 6.0
"""


@pytest.mark.parametrize(
    ("long", "at", "facts", "closed"),
    [
        ("14.0", "0", "", True),
        ("6.4", "0", "", True),
        ("14.0", "4.5", "", False),
        ("14.0", "12", "", False),
        ("14.0", "0", "    through disc, hub\n", False),
        ("14.0", "0", "    deep 6.0 from disc.front\n", False),
    ],
)
def test_a_hole_that_another_body_closes_is_told(long: str, at: str, facts: str, closed: bool):
    """The hub covers all of the mouth, or leaves some of it free, or is bored as well; a depth says that it
    is to end.
    """
    result = makegood.compile_text(HUB.format(long, at) + facts)
    assert result.ok
    noted = [one.headline for one in result.diagnostics if one.code == "hole-closed"]
    assert noted == ["bore `shaft` is closed at one end by `hub`, which it does not go through"] * closed


def test_a_copy_that_is_closed_is_noted_as_well_as_the_hole_itself():
    text = (
        'recipe "tray"\nblock base\n    long 60\n    wide 40\n    thick 3\n'
        "block cap\n    on base.front\n    long 20\n    wide 20\n    thick 3\n"
        "    from base.left near 5\n    from base.bottom near 5\nbore h\n    across 4\n    through base\n"
        "    from base.left centre {0}\n    from base.bottom centre 15\n"
        "row some\n    of h\n    count 2\n    pitch {1}\n"
    )
    for at, pitch in ((45, -30), (15, 30)):
        found = [one.code for one in makegood.compile_text(text.format(at, pitch)).diagnostics]
        assert found.count("hole-closed") == 1, (at, pitch, found)


ROOT = """recipe "book end"
block foot
    long 60.0
    wide 30.0
    thick 3.0
block wall
    on foot.front
    long 3.0
    wide 30.0
    thick 10.0
    flush with foot.left
    midway foot.top, foot.bottom
"""
STAY = """rib stay
    between foot.front, wall.right
    thick 3.0
    reach {} along foot.front
    reach {} along wall.right
    midway foot.top, foot.bottom
"""
FILLET = "fillet root\n    between foot.front, wall.right\n    radius {}\n"


@pytest.mark.parametrize(
    ("text", "flats"),
    [
        (STAY.format(57, 10), []),
        (STAY.format(57.1, 10), ["foot.front"]),
        (STAY.format(20, 10.1), ["wall.right"]),
        (STAY.format(60, 12), ["foot.front", "wall.right"]),
        (FILLET.format(10), []),
        (FILLET.format(10.1), ["wall.right"]),
        (
            "block top\n    on wall.front\n    long 3\n    wide 30\n    thick 5\n    flush with wall.left\n"
            "    flush with wall.top\n" + FILLET.format(12),
            [],
        ),
    ],
)
def test_what_reaches_beyond_its_flat_is_told(text: str, flats: list[str]):
    """The foot goes 57 beyond the wall, the wall 10 above the foot, and 15 with another body that goes on in
    its flat.
    """
    result = makegood.compile_text(ROOT + text)
    assert result.ok, result.diagnostics
    found = [one.headline for one in result.diagnostics if one.code == "flat-too-short"]
    assert [headline.split("`")[3] for headline in found] == flats
