"""What a slot takes, and what it refuses, in every line of the table that has one."""

from __future__ import annotations

import pytest
from makegood.language.shapes import kinds
from makegood.quantities import Unit

from .slot_lines import Filled, claimed, filled, numbers, things

LET = "\nlet odd_number = 3\n"
NO_PLACE = LET + "row odd_row\n    of odd_row\n    count 2\n    pitch 3\n"


def errors(text: str, line: int) -> set[str]:
    """The codes of the errors at a line."""
    return {one.code for one in claimed(text)[1] if one.is_error and one.span and one.span.line == line}


def test_every_slot_of_the_table_is_filled_by_some_recipe():
    """So that the tests below can't leave one out."""
    wanted = {
        (shape.word, key, slot.name)
        for kind in kinds().values()
        for shape in kind.facts
        for key, slot in shape.slots.items()
        if shape.word and slot.fill in ("number", "thing", "things", "stops")
    }
    assert wanted - {(one.word, one.key, one.slot.name) for one in filled()} == set()


@pytest.mark.parametrize("one", things(), ids=str)
def test_a_number_is_no_thing_in_any_slot(one: Filled):
    assert errors(one.with_("odd_number", LET), one.span.line) == {"wrong-kind"}


@pytest.mark.parametrize("one", [one for one in things() if "PATTERN" not in one.slot.holds], ids=str)
def test_what_lies_nowhere_is_refused_where_a_place_is_meant(one: Filled):
    assert errors(one.with_("odd_row", NO_PLACE), one.span.line) == {"wrong-kind"}


@pytest.mark.parametrize("one", numbers(True, rule="counts"), ids=str)
@pytest.mark.parametrize(
    ("text", "code"), [("3.5", "bad-count"), ("0", "bad-count"), ("-2", "bad-count"), ("3 mm", "wrong-unit")]
)
def test_a_count_is_a_whole_number_from_one(one: Filled, text: str, code: str):
    assert errors(one.with_(text), one.span.line) == {code}


@pytest.mark.parametrize("one", numbers(Unit.ANGLE), ids=str)
def test_an_angle_takes_degrees_and_no_length(one: Filled):
    assert errors(one.with_("30 deg"), one.span.line) == set()
    assert errors(one.with_("30\u00b0"), one.span.line) == set()
    assert errors(one.with_("30 mm"), one.span.line) == {"wrong-unit"}
    if not one.has_a_give:
        assert errors(one.with_("30 +- 1 mm"), one.span.line) == {"wrong-unit"}


@pytest.mark.parametrize("one", numbers(Unit.LENGTH), ids=str)
def test_a_length_takes_no_degrees_nor_newtons_nor_shares(one: Filled):
    said = ("30 deg", "30 N", "30 %")
    for text in said if one.has_a_give else (*said, "3 +- 5 %", "3 +- 5 deg"):
        assert errors(one.with_(text), one.span.line) == {"wrong-unit"}, text


@pytest.mark.parametrize("one", numbers(Unit.FORCE), ids=str)
def test_a_force_is_in_newtons(one: Filled):
    assert errors(one.with_("30 N"), one.span.line) == set()
    assert errors(one.with_("3 kg"), one.span.line) == set()
    assert errors(one.with_("30 mm"), one.span.line) == {"wrong-unit"}


@pytest.mark.parametrize("one", numbers("positive", rule="sign"), ids=str)
def test_a_size_is_more_than_nothing(one: Filled):
    for text in ("0", "-3", "2 - 2"):
        assert errors(one.with_(text), one.span.line) & {"bad-size", "bad-count", "drill-backwards"}, text


@pytest.mark.parametrize("one", numbers("zero", rule="sign"), ids=str)
def test_what_may_be_nothing_is_not_negative(one: Filled):
    assert errors(one.with_("0"), one.span.line) == set()
    assert errors(one.with_("-3"), one.span.line) == {"bad-size"}


@pytest.mark.parametrize("one", numbers("signed", "nonzero", rule="sign"), ids=str)
def test_what_goes_either_way_takes_a_sign(one: Filled):
    assert errors(one.with_("-3"), one.span.line) == set()
    assert errors(one.with_("0"), one.span.line) == ({"bad-size"} if _sign(one) == "nonzero" else set())


def _sign(one: Filled) -> str:
    return one.slot.rule.sign if one.slot.rule is not None else ""
