"""Threads and gears on the inspection sheet and the drawing: what is measured, and what they are called."""

from __future__ import annotations

import math

import makegood
import pytest
from makegood.outputs.paper import Check, Gauge, checks
from makegood.outputs.paper.notes import notes

HEAD = 'recipe "piece"\nblock bar\n    long 40\n    wide 20\n    thick 9\n'
HOLE = "bore hole\n    around bar\n"
NECK = (
    "neighbour neck\n    core 24.0\n    deep 1.2\n"
    "    pitch 9.0 over 3\n    crest 1.0\n    foot 1.8\n    left-handed\n"
)


def part(text: str) -> makegood.Result:
    result = makegood.compile_text(text)
    assert result.ok, [one.headline for one in result.diagnostics]
    return result


def called(result: makegood.Result, name: str) -> str:
    """What a drawing writes at a thing, behind its name."""
    (note,) = [one for one in notes(result._scene()) if one.name == name]
    return note.text.removeprefix(f"{name} ")


def sizings(result: makegood.Result) -> list[Check]:
    """What is measured of a part before all distances."""
    return [one for one in checks(result._scene()) if one.mates]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("thread M8", "M8"),
        ("thread M8 fine", "M8 \u00d7 1"),
        ("screws on m8x0.75", "M8 \u00d7 0.75"),
    ],
)
def test_a_metric_thread_is_called_by_its_name(words: str, said: str):
    """ISO 6410: the designation, M and size, times the pitch where it is not the coarse one."""
    result = part(HEAD + HOLE + f"    {words}\n")
    assert called(result, "hole") == said


def test_a_thread_as_read_is_called_by_size_pitch_and_hand():
    result = part(
        NECK + HEAD.replace("40", "60").replace("20", "40") + HOLE + "    screws on neck, 0.4 clear\n"
    )
    assert called(result, "hole") == "\u00d826.8 \u00d7 3 thread LH"
    (one,) = sizings(result)
    assert (one.gauge, one.value) == (Gauge.POCKET, pytest.approx(24.4))


def test_what_is_measured_of_a_bolt_and_a_wheel():
    result = part('recipe "x"\nturning bolt\n    across 8 from 0 to 20\n    thread M8 from 4 to 20\n')
    (one,) = sizings(result)
    assert (one.key, one.gauge, one.value) == ("bolt thread from 4 to 20", Gauge.PEG, 8.0)
    result = part('recipe "x"\ngear wheel\n    teeth 20\n    module 2\n    thick 5\n    backlash 0\n')
    found = {one.key: one.value for one in sizings(result)}
    assert found == {
        "wheel span": pytest.approx(15.321, abs=5e-4),
        "wheel tips": pytest.approx(44.0),
    }  # span: published
    result = part(
        'recipe "x"\ngear ring_gear\n    teeth 40\n    module 1\n    inside\n    rim 48\n    thick 5\n'
    )
    (one,) = sizings(result)
    assert one.value == pytest.approx(38.0)
    assert math.isclose(result.layout.spots["ring_gear"].half[0], 24.0)
