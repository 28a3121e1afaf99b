"""Walls beside holes: exact thickness, just not thin, none; and what only looks like a wall."""

from __future__ import annotations

import math

import makegood
import pytest
from makegood.diagnostics.types import Severity

from .asking import BODY, asked, at, bore, codes, headline

ROUND_END = """
bore pin
    across {size}

round boss
    around pin
    across 16.0

bore far
    across 3.0
    from pin centres 30.0
    level with pin
    right of pin

round tail
    around far
    across 9.0

plate body
    thick 4.0
    belt boss, tail
"""


def test_a_wall_to_the_edge_is_told_with_both_places():
    (one,) = asked(BODY + bore("screw", "across 5.0", *at(3.05, 10.0)))
    assert one.code == "thin-wall"
    assert one.severity is Severity.WARNING
    assert "bore `screw`" in one.headline
    assert "0.55" in one.headline
    assert one.span is not None
    assert one.others[0].span.line == 3


@pytest.mark.parametrize(
    ("x", "found"), [(3.29, ["thin-wall"]), (3.31, []), (2.4, ["hole-runs-out"]), (10.0, [])]
)
def test_the_limit_is_two_strands(x: float, found: list[str]):
    assert codes(BODY + bore("screw", "across 5.0", *at(x, 10.0))) == found


def test_a_hole_that_runs_out_is_a_note_and_a_notch_is_none():
    (one,) = asked(BODY + bore("rod", "across 5.0", *at(1.0, 10.0)))
    assert (one.code, one.severity) == ("hole-runs-out", Severity.NOTE)
    notch = (
        "\nnotch rod\n    long 4.0\n    wide 5.0\n"
        "    flush with body.left\n    from body.bottom centre 10.0\n"
    )
    assert codes(BODY + notch) == []


def test_a_round_edge_is_measured_to_the_round_itself():
    assert "`boss`" in headline('recipe "part"\n' + ROUND_END.format(size=14.6))
    assert "0.70" in headline('recipe "part"\n' + ROUND_END.format(size=14.6))
    assert codes(ROUND_END.format(size=14.4)) == []


def test_the_wall_between_two_holes_and_between_copies():
    pair = BODY + bore("one", "across 4.0", *at(10.0, 10.0)) + bore("two", "across 4.0", *at(13.0, 13.5))
    assert f"{math.hypot(3.0, 3.5) - 4.0:.2f}" in headline(pair)
    row = (
        BODY + bore("h", "across 4.0", *at(6.0, 10.0)) + "\nrow holes\n    of h\n    count 5\n    pitch {}\n"
    )
    assert codes(row.format(4.7)) == ["thin-wall"]
    assert codes(row.format(4.85)) == []


def test_holes_that_merge_leave_no_wall():
    keyhole = bore("big", "across 8.0", *at(10.0, 10.0)) + bore("small", "across 4.0", *at(14.2, 10.0))
    assert codes(BODY + keyhole) == []


def test_a_wall_that_a_third_hole_takes_away_is_none():
    two = BODY + bore("one", "across 4.0", *at(10.0, 10.0)) + bore("two", "across 4.0", *at(14.5, 10.0))
    assert codes(two) == ["thin-wall"]
    assert "thin-wall" not in codes(two + bore("three", "across 5.0", *at(12.25, 10.0)))


def test_a_bore_under_a_hexagon_is_no_wall():
    nut = bore("nut", "hex 7.0", "deep 2.0 from body.front", *at(20.0, 10.0))
    assert codes(BODY + nut + bore("screw", "across 5.8", *at(20.0, 10.0))) == []


def test_blind_holes_from_both_sides_do_not_meet():
    front = bore("one", "across 4.0", "deep 1.5 from body.front", *at(10.0, 10.0))
    back = bore("two", "across 4.0", "deep {} from body.back", *at(14.5, 10.0))
    assert codes(BODY + front + back.format(1.5)) == []
    assert codes(BODY + front + back.format(3.0)) == ["thin-wall"]


def test_a_slot_is_measured_from_its_rounded_end():
    slot = BODY + "\nslot s\n    wide 4.0\n    long 12.0\n    level\n    from body.left centre {}\n"
    slot += "    from body.bottom centre 10.0\n"
    assert "0.40" in headline(('recipe "part"\n' + slot).format(6.4))
    assert codes(slot.format(7.0)) == []


def test_where_another_body_goes_on_there_is_no_edge():
    shelf = (
        "\nblock shelf\n    long 40.0\n    wide 10.0\n    thick 4.0\n"
        "    against body.top\n    flush with body.left\n"
    )
    hole = bore("screw", "across 4.0", "through body", *at(20.0, 17.5))
    assert codes(BODY + hole) == ["thin-wall"]
    assert codes(BODY + shelf + hole) == []


def test_a_hole_in_the_side_of_a_block_sees_its_flats():
    hole = bore(
        "pin",
        "on body.top",
        "across 3.0",
        "from body.left centre 20.0",
        "from body.front near 0.3",
        "deep 5.0",
    )
    assert "0.30" in headline('recipe "part"\n' + BODY + hole)


def test_walls_of_a_turning():
    pipe = "\nturning pipe\n    across 20.0 from 0 to 10\n    bored {} from 2 to 10\n"
    said = headline(('recipe "part"\n' + pipe).format(18.6))
    assert "`pipe`" in said
    assert "0.70" in said
    assert codes(pipe.format(18.4)) == []
    grooved = pipe.format(16.0) + "    groove 17.0 from 4 to 5\n"
    assert "0.50" in headline('recipe "part"\n' + grooved)
    tapered = "\nturning cone\n    taper 20.0 at 0, 10.0 at 10\n    bored 9.0 from 5 to 10\n"
    assert "0.50 thick at 10" in headline('recipe "part"\n' + tapered)


@pytest.mark.parametrize(("made", "found"), [("8.0", []), ("13.0", ["thin-wall"])])
def test_a_made_size_that_leaves_a_thin_wall_in_a_turning(made: str, found: list[str]):
    bush = "\nturning bush\n    across 22.0 from 0 to 2.0\n    across 14.0 from 2.0 to 11.0\n"
    assert codes(bush + f"\nbore shank\n    around bush\n    across 8.9 made {made}\n") == found


def test_a_hole_beside_the_axis_of_a_turning():
    wheel = "\nturning wheel\n    across 30.0 from 0 to 8.0\n    bored 10.0 from 0 to 8.0\n"
    hole = "\nbore light\n    at {}, 0 from wheel\n    across 4.0\n    through wheel\n"
    assert "outside of `wheel`" in headline('recipe "part"\n' + wheel + hole.format(12.5))
    assert "bore of `wheel`" in headline('recipe "part"\n' + wheel + hole.format(7.5))
    assert codes(wheel + hole.format(10.0)) == []


def test_a_hole_in_a_flange_beside_its_hub():
    """The hub is 6.0 in radius: a hole from 6.3 to 10.3 stands beside it, one from 5.5 to 9.5 nicks it."""
    wheel = "\nturning wheel\n    across 30.0 from 0 to 8.0\n    across 12.0 from 8.0 to 10.0\n"
    hole = "\nbore light\n    at {}, 0 from wheel\n    across 4.0\n    through wheel\n"
    assert codes(wheel + hole.format(8.3)) == []
    assert codes(wheel + hole.format(7.5)) == ["hole-runs-out"]


def test_a_screenful_is_enough_and_the_rest_is_counted():
    found = asked(BODY + "".join(bore(f"h{k}", "across 1.5", *at(2.0 + 2.0 * k, 10.0)) for k in range(18)))
    assert {one.code for one in found} == {"thin-wall"}
    assert len(found) == 12
    assert "5 more" in found[-1].advice[-1]


def test_among_ten_thousand_bores_the_thinnest_wall_is_told():
    """4.5 mm of pitch less 4.0 of hole; all pairs would be fifty million, the neighbours are forty
    thousand.
    """
    from makegood.checks import check_part
    from makegood.facts import state_tree
    from makegood.mesh.types import Part
    from makegood.model import build_model, card_of
    from makegood.places import place_all
    from makegood.source import read_text
    from makegood.tree import parse_rows

    text = (
        'recipe "sieve"\n\nblock body\n    long 700\n    wide 700\n    thick 4.0\n'
        + bore("h", "across 4.0", *at(6.0, 6.0))
        + "\ngrid holes\n    of h\n    count 100, 100\n    pitch 4.5, 6.0\n"
    )
    source, _ = read_text(text, "sieve.mend")
    claims, _ = state_tree(parse_rows(source)[0])
    layout, found = place_all(claims)
    assert not found
    part = makegood.compile_text('recipe "part"\n' + BODY).part
    assert isinstance(part, Part)
    model, _ = build_model(claims, layout)
    (one,) = check_part(card_of(claims), model, part)
    assert "0.50" in one.headline


def test_the_order_of_writing_changes_nothing():
    one, two = bore("one", "across 4.0", *at(10.0, 10.0)), bore("two", "across 4.0", *at(14.5, 10.0))
    assert [m.headline for m in asked(BODY + one + two)] == [m.headline for m in asked(two + one + BODY)]
