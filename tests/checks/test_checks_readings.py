"""Names, numbers and readings: unused, only about, astray, worn, contradicted; and plastics that no table
knows.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics.types import Severity, Span
from makegood.facts.stray import agree, stray_of
from makegood.facts.types import SingleReading
from makegood.quantities import Quantity, Standing

from .asking import BODY, asked, at, bore, codes, headline

LAID = 'recipe "part"\n    laid {}\n' + BODY


def taken(value: float, give: float) -> SingleReading:
    return SingleReading(Quantity(value, give / math.sqrt(3), Standing.READ), (), Span(1, 1, 2))


@pytest.mark.parametrize(
    "head",
    [
        "point p\n    at 3, 3",
        "round p\n    around hole\n    across 9.0",
        "let p = 4.0",
        "line p\n    from body.left 3.0\n    upright",
    ],
)
def test_a_name_that_nothing_speaks_of(head: str):
    (one,) = asked(BODY + bore("hole", "across 4.0", *at(10.0, 10.0)) + "\n" + head + "\n")
    assert (one.code, one.severity) == ("unused-name", Severity.WARNING)
    assert "`p`" in one.headline


def test_a_neighbour_that_nothing_uses_is_only_noted():
    (one,) = asked(BODY + "\nneighbour bolt\n    across 8.0\n")
    assert (one.code, one.severity) == ("unused-name", Severity.NOTE)


def test_every_way_of_speaking_counts_as_use():
    used = "\nlet size = 4.0\n\npoint p\n    at 3, 3 from body\n\nneighbour pin\n    across size\n"
    assert (
        codes('recipe "part"\n    load 5 N on p\n' + BODY + used + bore("h", "turns on pin", *at(10.0, 10.0)))
        == []
    )


def test_nothing_is_said_of_unused_names_while_something_is_wrong():
    found = asked(BODY + "\npoint p\n    at 3, 3\n\nround r\n    arround p\n", ok=False)
    assert "unused-name" not in [one.code for one in found]


def test_an_about_place_and_an_about_size():
    assert "from body.left centre about 9.0" in headline(
        'recipe "part"\n'
        + BODY
        + bore("h", "across 4.0", "from body.left centre about 9.0", "from body.bottom centre 10.0")
    )
    (one,) = asked(BODY + bore("h", "across about 4.0", *at(10.0, 10.0)))
    assert one.code == "about-placed"
    assert "across 4.0 wanted" in one.advice[0]
    assert codes(BODY + bore("h", "across 4.0 wanted", *at(10.0, 10.0))) == []


def test_an_about_number_behind_a_point_a_let_or_a_neighbour():
    point = "\npoint p\n    from body.left about 9.0\n    from body.bottom 10.0\n"
    (one,) = asked(BODY + point + bore("h", "across 4.0", "around p"))
    assert one.code == "about-placed"
    assert "`p`" in one.headline
    assert "`h`" in one.label
    named = "\nlet x = about 9.0\n" + bore(
        "h", "across 4.0", "from body.left centre x", "from body.bottom centre 10.0"
    )
    assert codes(BODY + named) == ["about-placed"]
    shaft = "\nneighbour shaft\n    across about 6.0\n" + bore("h", "turns on shaft", *at(10.0, 10.0))
    assert codes(BODY + shaft) == ["about-placed"]


def test_an_about_step_from_copy_to_copy():
    row = (
        bore("h", "across 4.0", *at(6.0, 10.0)) + "\nrow holes\n    of h\n    count 2\n    pitch about 12.0\n"
    )
    (one,) = asked(BODY + row)
    assert one.code == "about-placed"
    assert "pitch about 12.0" in one.headline
    assert codes(BODY + row.replace("about ", "")) == []


def test_about_where_nothing_must_fit_is_no_fault():
    assert (
        codes(BODY.rstrip() + "\n    round outside about 3\n" + bore("h", "across 4.0", *at(10.0, 10.0)))
        == []
    )


@pytest.mark.parametrize(
    ("readings", "found"),
    [
        ("3.98, 4.22", ["stray-reading"]),
        ("3.98, 4.02, 4.01", []),
        ("4.00, 4.10", []),
        ("4.00, 4.11", ["stray-reading"]),
        ("4.00 +-0.1, 4.15", []),
        ("4.00 rough, 4.15", []),
        ("4.3, 4.0 worn made 4.0", []),
        ("4.0", []),
    ],
)
def test_readings_that_can_not_be_of_one_size(readings: str, found: list[str]):
    """The recipe's give-or-take is 0.05 by default: two readings may lie 0.10 apart."""
    assert codes(BODY.replace("thick 4.0", f"thick {readings}")) == found


def test_the_stray_is_named_where_it_can_be_told():
    (one,) = asked(BODY.replace("thick 4.0", "thick 3.98, 4.22, 4.01"))
    assert "`thick` of `body`" in one.headline
    assert "0.24" in one.headline
    assert "4.22" in one.others[0].text
    (one,) = asked(BODY.replace("thick 4.0", "thick 3.98, 4.22"))
    assert one.others == ()


def test_readings_of_a_place_are_asked_too():
    assert codes(
        BODY + bore("h", "across 4.0", "from body.left centre 9.0, 9.4", "from body.bottom centre 10.0")
    ) == ["stray-reading"]


@given(st.lists(st.tuples(st.floats(1, 9), st.floats(0.01, 1)), min_size=1, max_size=6))
def test_readings_agree_when_every_two_do(some):
    """Helly's theorem on a line, against the plain double loop."""
    pairs = all(abs(a - b) <= ga + gb + 2e-9 for a, ga in some for b, gb in some)
    assert agree([taken(*one) for one in some]) in (
        pairs,
        all(abs(a - b) <= ga + gb for a, ga in some for b, gb in some),
    )


@given(
    st.floats(1, 50),
    st.lists(st.floats(-0.04, 0.04), min_size=2, max_size=5),
    st.floats(0.3, 5.0),
    st.booleans(),
)
def test_one_slip_among_sound_readings_is_found(size, noise, slip, below):
    wrong = taken(size + (-slip if below else slip), 0.05)
    sound = [taken(size + one, 0.05) for one in noise]
    assert stray_of([*sound, wrong]) is wrong


def test_a_worn_size_that_is_copied():
    (one,) = asked(BODY + bore("h", "across 8.9 worn", *at(12.0, 10.0)))
    assert (one.code, one.severity) == ("worn-copied", Severity.WARNING)
    assert "`h`" in one.headline
    assert "8.9" in one.headline


@pytest.mark.parametrize(
    "facts",
    [
        ("across 8.9 worn made 8.2",),
        ("across 8.9 worn", "turns on 8.0"),
        ("across 8.9 rough",),
        ("across 8.9 worn", "as read"),
    ],
)
def test_a_worn_size_that_is_settled(facts: tuple[str, ...]):
    assert codes(BODY + bore("h", *facts, *at(12.0, 10.0))) == (["worn-copied"] if "as read" in facts else [])


@pytest.mark.parametrize(
    ("deep", "found"),
    [
        ("2.0 from back", ["laid-contradicts"]),
        ("2.0 from body.back", ["laid-contradicts"]),
        ("2.0 from front", []),
    ],
)
def test_a_blind_hole_in_the_back_can_not_have_looked_up(deep: str, found: list[str]):
    assert (
        codes(LAID.format("spring side up") + bore("spring", "across 3.0", f"deep {deep}", *at(10.0, 10.0)))
        == found
    )


@pytest.mark.parametrize(
    ("flat", "deep", "found"),
    [
        ("back", "2.0", ["laid-contradicts"]),
        ("front", "2.0", []),
        ("back", "", []),
    ],
)
def test_a_hole_on_a_flat_is_deep_from_it(flat: str, deep: str, found: list[str]):
    facts = [f"on body.{flat}", "across 3.0", *([f"deep {deep}"] if deep else []), *at(10.0, 10.0)]
    assert codes(LAID.format("spring side up") + bore("spring", *facts)) == found


def test_a_through_hole_looks_both_ways_and_a_back_looks_down():
    assert codes(LAID.format("h side up") + bore("h", "across 3.0", *at(10.0, 10.0))) == []
    assert codes(LAID.format("body.back side up")) == ["laid-contradicts"]
    assert codes(LAID.format("body.front side up")) == []


def test_a_peg_on_the_back():
    peg = bore("stud", "on body.{}", "across 4.0", "high 5.0", *at(10.0, 10.0)).replace("bore", "peg")
    assert codes(LAID.format("stud up") + peg.format("front")) == []
    assert codes(LAID.format("stud up") + peg.format("back")) == ["laid-contradicts"]


def test_a_plastic_that_no_table_knows():
    (one,) = asked('recipe "part"\n    plastic PTEG\n' + BODY)
    assert (one.code, one.severity) == ("unknown-plastic", Severity.WARNING)
    assert "PETG" in one.advice[0]
    assert one.span is not None
    assert one.span.line == 2
    assert codes('recipe "part"\n    plastic pet-g\n' + BODY) == []
