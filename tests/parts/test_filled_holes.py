"""A hole that something stands in is told of, whichever of its bodies and whichever of its copies it is."""

from __future__ import annotations

import makegood
import pytest

PAIR = (
    'recipe "two shelves"\nblock low\n    long 40\n    wide 30\n    thick 3\n'
    "plane up\n    raised 10 from low.front\nblock high\n    on up\n"
    "    around low\n    long 40\n    wide 30\n    thick 3\n"
    "block post\n    on low.front\n    long 4\n    wide 30\n    thick 10\n    flush with low.left\n"
    "    midway low.top, low.bottom\n"
    "bore hole\n    across 6\n    through low, high\n    around low\n"
)


def told(text: str) -> list[str]:
    result = makegood.compile_text(text)
    assert result.ok, [one.headline for one in result.diagnostics]
    return [one.headline for one in result.diagnostics if one.code == "hole-filled"]


@pytest.mark.parametrize("plane", ["", "    on up\n"])
def test_in_either_of_two_bodies(plane: str) -> None:
    """A plug 3 thick in the hole of the lower or of the upper of two plates ten apart."""
    assert told(PAIR) == []
    plug = f"block plug\n{plane}    around low\n    long 12\n    wide 12\n    thick 3\n"
    assert told(PAIR + plug) == ["`plug` fills part of bore `hole`"]


@pytest.mark.parametrize("which", [1, 8, 9, 10])
def test_of_any_copy(which: int) -> None:
    """Ten bores in a row, 10 apart: a block that closes one of them."""
    text = (
        'recipe "row"\nblock bar\n    long 110\n    wide 20\n    thick 4\nbore hole\n    across 5\n'
        "    from bar.left centre 10\n    midway bar.top, bar.bottom\n"
        "row holes\n    of hole\n    count 10\n    pitch 10\n    level\n"
        f"block plug\n    long 7\n    wide 8\n    thick 4\n    from bar.left near {10 * which - 3.5}\n"
        "    midway bar.top, bar.bottom\n"
    )
    assert told(text) == ["`plug` fills part of bore `hole`"]


@pytest.mark.parametrize(
    ("top", "high", "severities"),
    [
        (5.0, 3.0, []),  # 1 over the floor of the bore
        (9.5, 9.0, []),  # half a millimetre below its mouth
        (9.0, 3.0, []),  # a bar across it, off its floor
        (10.0, 9.0, ["WARNING"]),  # up to its mouth
        (11.0, 9.0, ["WARNING"]),  # out of its mouth
    ],
)
def test_a_key_below_the_mouth_of_a_blind_bore_is_meant(
    top: float, high: float, severities: list[str]
) -> None:
    """A bore 6 deep in a block 10 thick; a key stands across it, `high` high, its top `top` over the back."""
    text = (
        'recipe "key"\nblock body\n    long 40\n    wide 20\n    thick 10\n'
        "bore pit\n    across 10\n    at 0, 0 from body\n    deep 6 from body.front\n"
        f"block key\n    on body.back\n    raised {-top}\n    long 2\n    wide 10.4\n    thick {high}\n"
        "    at 0, 0 from body\n"
    )
    said = makegood.compile_text(text).diagnostics
    assert [one.severity.name for one in said if one.code == "hole-filled"] == severities
