"""What is built otherwise than it was said is found, whatever room built it so."""

from __future__ import annotations

from pathlib import Path

import makegood
import pytest
from makegood.callipers import measure_back
from makegood.mesh import assemble
from makegood.outputs import report_json, report_text
from msgspec.structs import replace

from .mutants import tried

ROOT = Path(__file__).resolve().parents[2]
STOP = """recipe "gate stop"
block stop
    long 30.0
    wide 20.0
    thick 8.0
bore screw
    drill 4.0
    from stop.left centre 10.0
    from stop.bottom centre 10.0
bore pin
    drill 6.0 not 6.1
    turns on 6.0
    deep 5.0 from stop.front
    from stop.left centre 22.0
    level with screw
"""


def _built_otherwise(name: str, **fields: object) -> list[str]:
    """What is found other than said of the gate stop, fields of one thing changed."""
    result = makegood.compile_text(STOP)
    assert result.ok
    model = result.made
    changed = replace(model, things={**model.things, name: replace(model.things[name], **fields)})
    part, _ = assemble(changed, 0.01, {})
    assert part is not None
    rows = measure_back(changed, part)
    return [f"{row.thing}: {row.text} is {row.found:.3f}" for row in rows if row.wrong]


def test_a_hole_beside_its_place_is_told_with_both_figures():
    spot = makegood.compile_text(STOP).made.things["screw"].spot
    told = _built_otherwise("screw", spot=replace(spot, at=(spot.at[0] + 0.5, spot.at[1])))
    assert told == ["screw: from stop.left centre 10.0 is 10.500"]


def test_a_block_that_is_longer_is_told():
    told = _built_otherwise("stop", half=(16.0, 10.0))
    assert "stop: long 30.0 is 32.000" in told


def test_what_a_fit_changes_is_no_fault_and_its_reason_is_told():
    result = makegood.compile_text(STOP)
    rows = [row for row in result.taken if row.thing == "pin" and row.text.startswith("drill")]
    assert [round(row.given, 2) for row in rows] == [6.0]
    assert rows[0].meant == pytest.approx(6.2, abs=0.001)
    assert rows[0].found == pytest.approx(6.2, abs=0.001)
    assert rows[0].why


def test_every_number_of_the_recipe_has_a_row():
    result = makegood.compile_text(STOP)
    told = {(row.span.line, row.key) for row in result.taken}
    for thing in result.made.things.values():
        for number in thing.numbers:
            assert (number.size.said.span.line, number.key) in told


def test_the_report_tells_what_was_read_and_what_is_there():
    report = makegood.compile_text(STOP).report()
    text = report_text(report)
    assert "measured on the finished mesh" in text
    assert '"as_said": true' in report_json(report)
    assert '"as_said": false' not in report_json(report)


def test_which_way_things_run():
    ways = {one.thing: one.text for one in makegood.compile_text(STOP).report().ways}
    assert ways["pin"] == (
        "enters at stop.front and goes towards the back, 5.00 deep, 3.00 is left under its floor; cuts stop"
    )
    assert (
        ways["screw"] == "goes through towards the back, 8.00 long, from stop.front to stop.back; cuts stop"
    )


@pytest.mark.parametrize("name", ["hose-reel-pawl", "mower-handle-bush"])
def test_each_number_of_the_model_changed_by_a_tenth_is_found(name: str):
    said = dict(tried(ROOT / "examples" / f"{name}.mend"))
    assert [where for where, verdict in said.items() if verdict == "missed"] == []
    assert sum(verdict == "found" for verdict in said.values()) > 5
