"""Turnings along a line of the page run the way rows do: to the right, or up where the line stands
upright.
"""

from __future__ import annotations

import makegood
import pytest

from .making import corners, faces_of, made

BASE = """
block base
    long 40
    wide 24
    thick 6
line axis
    {line}
point start
    on axis
    {start}
turning bar
    lies along axis from start
    across 8 from 2 to 20
    across 4 from 20 to 22
"""


def along(line: str, start: str, hand: str = "") -> tuple[makegood.result.Result, list[float], list[float]]:
    result = made(f'recipe "r"{hand}\n' + BASE.format(line=line, start=start))
    thin = corners(result, faces_of(result, "bar")).reshape(-1, 3)
    return result, thin.min(axis=0).tolist(), thin.max(axis=0).tolist()


@pytest.mark.parametrize(
    ("line", "start", "axis"),
    [
        ("upright\n    midway base.left, base.right", "flush with base.bottom", 1),
        ("angle 90\n    midway base.left, base.right", "flush with base.bottom", 1),
        ("level\n    midway base.top, base.bottom", "flush with base.left", 0),
        ("angle 180\n    midway base.top, base.bottom", "flush with base.left", 0),
    ],
)
def test_it_runs_right_or_up(line: str, start: str, axis: int) -> None:
    """From 2 to 22 beyond the side of the base that its axis starts from."""
    for hand in ("", "\n    other hand"):
        result, low, high = along(line, start, hand)
        ends = [40.0 - high[0], 40.0 - low[0]] if hand and axis == 0 else [low[axis], high[axis]]
        assert ends == pytest.approx([2.0, 22.0], abs=2e-6)
        assert result.figures.box[2] == pytest.approx(10.0, abs=2e-6)
