"""Whatever a person would measure may be a reading: several, with a give-or-take, a tool, a condition."""

from __future__ import annotations

import makegood
import pytest
from makegood.facts import Claim, Measure
from makegood.quantities import Quantity, Standing, Unit

from .slot_lines import Filled, claimed, filled


def several() -> list[Filled]:
    """The slots that take a list of readings, filled by a bare positive number."""
    return [
        one
        for one in filled()
        if one.slot.rule is not None
        and one.slot.rule.several
        and not one.has_a_give
        and one.slot.fill == "number"
        and not _single(one)
    ]


def _single(one: Filled) -> bool:
    """Whether a comma of the line parts this number from the next one."""
    line = one.recipe.split("\n")[one.span.line - 1]
    return line[one.span.end - 1 :].lstrip().startswith(",")


def claim_of(text: str, one: Filled) -> Claim:
    """The claim at the line of a slot; fails where the line is not understood."""
    found, said = claimed(text)
    assert not [d for d in said if d.is_error and d.span and d.span.line == one.span.line]
    claims = (claim for some in found.values() for claim in some)
    return next(claim for claim in claims if claim.span.line == one.span.line)


@pytest.mark.parametrize("one", several(), ids=str)
def test_readings_are_averaged_kept_one_by_one_and_give_the_made_number(one: Filled):
    """Of three equal give-or-takes the mean has u / sqrt 3 (JCGM 100, F.2.3.3); a limit a is a / sqrt 3."""
    claim = claim_of(one.with_("3.0 +- 0.3, 3.2 +- 0.3, 3.4 +- 0.3"), one)
    key = one.key if claim.get(one.key) is not None else "size"
    value = claim.get(key)
    read = value.read if isinstance(value, Measure) else value
    assert isinstance(read, Quantity)
    assert (read.value, read.u) == (pytest.approx(3.2), pytest.approx(0.3 / 3))
    assert read.standing is Standing.READ
    taken = [each for each in claim.taken if each.key == one.key]
    assert [each.number.value for each in taken] == [3.0, 3.2, 3.4]
    if not isinstance(value, Measure) or value.made == value.read:
        assert claim.number(key) == pytest.approx(3.2)


@pytest.mark.parametrize("one", several(), ids=str)
def test_a_tool_and_a_condition_say_how_it_was_read(one: Filled):
    claim = claim_of(one.with_("3.0 by rule, 3.1 worn, 3.2 doubtful"), one)
    taken = [each for each in claim.taken if each.key == one.key]
    assert [each.conditions for each in taken] == [(), ("worn",), ("doubtful",)]
    assert taken[0].number.u > 0


@pytest.mark.parametrize("one", [one for one in several() if one.slot.rule and one.slot.rule.made], ids=str)
def test_what_is_made_stands_behind_what_was_read(one: Filled):
    line = one.recipe.split("\n")[one.span.line - 1]
    if " made " in line[one.span.end - 1 :] or " wanted" in line or "," in line[one.span.end - 1 :]:
        return
    value = claim_of(one.with_("3.0 made 3.5"), one).get(one.key)
    assert isinstance(value, Measure)
    assert value.read is not None
    assert (value.read.value, value.made.value, value.made.standing) == (3.0, 3.5, Standing.WANTED)


@pytest.mark.parametrize("one", several(), ids=str)
def test_about_is_made_to_look_right(one: Filled):
    claim = claim_of(one.with_("about 3.0"), one)
    value = claim.get(one.key)
    made = value.made if isinstance(value, Measure) else value
    assert isinstance(made, Quantity)
    assert (made.value, made.standing) in ((3.0, Standing.ABOUT), (made.value, Standing.WANTED))


def bare() -> list[Filled]:
    """Numbers that are wanted unless said, one of each slot and fact."""
    found = {
        (one.word, one.key, one.slot.name): one
        for one in several()
        if one.slot.rule is not None and not one.slot.rule.read
    }
    return list(found.values())


@pytest.mark.parametrize("one", bare(), ids=str)
def test_a_give_or_take_makes_it_a_reading_and_moves_nothing(one: Filled):
    """The same part, byte for byte; and the reading is told where all readings are."""
    typed = one.recipe.split("\n")[one.span.line - 1][one.span.start - 1 : one.span.end - 1]
    unit = " deg" if one.slot.rule and one.slot.rule.unit is Unit.ANGLE else ""
    texts = (one.recipe, one.with_(f"{typed} +- 0.02{unit}"))
    plain, read = (makegood.compile_text(text, chord=0.1, folder=one.folder) for text in texts)
    assert plain.ok
    assert read.ok
    assert plain.mesh.points.tobytes() == read.mesh.points.tobytes()
    if one.slot.name != "FORCE" and one.word not in ("screws on", "screws into", "rack"):
        before, after = (
            {size.name + size.word for size in result.readings().sizes if size.read is not None}
            for result in (plain, read)
        )
        assert len(after) > len(before)
