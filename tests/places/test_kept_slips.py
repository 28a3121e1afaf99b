"""Where a digit slip explains readings that do not agree, the line that keeps it on record is offered, and
typing it makes them agree."""

from __future__ import annotations

import makegood
import pytest
from makegood.outputs.readings import readings_text

OFFERS = "to keep that on record:"
STOP = 'recipe "stop"\nblock stop\n    long 40.0\n    wide 20.0\n    thick 4.0\nbore pin\n    drill 6.0\n'


def offered(text: str) -> list[str]:
    """The lines offered, whatever reading they are for."""
    lines = [line for one in makegood.compile_text(text).diagnostics for line in one.advice]
    return [line.partition(OFFERS)[2].strip() for line in lines if OFFERS in line]


@pytest.mark.parametrize(
    ("near", "far", "kept"),
    [
        ("4.0", "20.0", "from stop.right near 20.0 meant 30.0"),  # 40 - 6 - 4
        ("4.00", "20.00", "from stop.right near 20.00 meant 30.00"),
        ("4.0", "20.0 +- 0.1", "from stop.right near 20.0 meant 30.0 +- 0.1"),
        ("4.0", "20.0 by calliper", "from stop.right near 20.0 meant 30.0 by calliper"),
        ("21.0", "31.0", "from stop.right near 31.0 meant 13.0"),  # digits swapped: 40 - 6 - 21
        ("4.0 mm", "20.0 mm", "from stop.right near 20.0 mm meant 30.0 mm"),
    ],
)
def test_the_line_offered_makes_the_readings_agree(near: str, far: str, kept: str) -> None:
    wrong = f"    from stop.right near {far}\n"
    text = f"{STOP}    from stop.left near {near}\n{wrong}    from stop.bottom centre 10.0\n"
    assert kept in offered(text)
    result = makegood.compile_text(text.replace(wrong, f"    {kept}\n"))
    assert [one for one in result.diagnostics if one.is_error] == []
    said = readings_text(result.readings(), result.title)
    assert "all together they agree" in said
    assert "SUSPECT" not in said


def test_every_line_offered_makes_them_agree() -> None:
    """Two readings of one spacing: each of them may have slipped."""
    text = (
        'recipe "bar"\nblock bar\n    long 60.0\n    wide 20.0\n    thick 4.0\n'
        "bore a\n    across 4.0\n    from bar.left centre 10.0\n    midway bar.top, bar.bottom\n"
        "bore b\n    across 4.0\n    from a centres 30.0\n    right of a\n    from bar.right centre 30.0\n"
        "    midway bar.top, bar.bottom\n"
    )
    lines = offered(text)
    assert lines
    for kept in lines:
        was = kept.partition(" meant ")[0]
        result = makegood.compile_text(text.replace(was, kept))
        assert [one for one in result.diagnostics if one.is_error] == [], kept


def test_nothing_is_offered_for_a_sum() -> None:
    """`5.0 + 15.0` has no one number that slipped."""
    place = (
        "    from stop.left near 4.0\n    from stop.right near 5.0 + 15.0\n    from stop.bottom centre 10.0\n"
    )
    text = STOP + place
    assert [one.code for one in makegood.compile_text(text).diagnostics] == ["readings-disagree"]
    assert not [line for line in offered(text) if "stop.right" in line]
