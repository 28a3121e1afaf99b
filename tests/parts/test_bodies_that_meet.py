"""Bodies said to touch are one part, whatever their sizes: a rounding error between two flats opens no gap.

Volumes are sums of boxes; a slit within the part would show as faces inside it, so the surface is checked as
well."""

from __future__ import annotations

from random import Random

import makegood
import pytest

from .making import made, said

PAIR = """
block plate
    long       {a}
    high       40.0
    thick      {t}
block arm
    long       {b}
    high       {c}
    thick      {t}
    against    plate.{side}
    {place}
"""


def joined(a: str, b: float, c: float, t: float, side: str, place: str) -> makegood.result.Result:
    return made(PAIR.format(a=a, b=b, c=c, t=t, side=side, place=place))


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("place", ["flush with plate.bottom", "midway plate.bottom, plate.top"])
@pytest.mark.parametrize("mean", [False, True])
def test_a_block_against_another_is_one_part_with_it(side: str, place: str, mean: bool) -> None:
    """3.4 and 10.2: 6.8 - 5.1 is more than 1.7 in the machine's numbers.  A mean of three readings ends in
    thirds.
    """
    rnd = Random(3)
    for _ in range(12):
        a, b, c, t = (
            3.4 if rnd.random() < 0.2 else round(rnd.uniform(2, 30), 1),
            round(rnd.uniform(2, 30), 1),
            6.2,
            5.0,
        )
        result = joined(f"{a}, {a}, {a + 0.1}" if mean else f"{a}", b, c, t, side, place)
        a += 0.1 / 3 if mean else 0.0
        figures = result.figures
        assert figures.volume == pytest.approx((a * 40.0 + b * c) * t, rel=1e-6)
        assert figures.area == pytest.approx(2 * (a * 40.0 + b * c) + 2 * t * (a + 40.0 + b), rel=1e-6)
        assert figures.triangles == 28 if place.startswith("midway") else 20


def test_a_ring_of_blocks_against_each_other_has_no_slit() -> None:
    """Four bars of 10.1 and 3.4 wide round a window: held together at three corners, the fourth would be a
    slit of nothing.
    """
    text = """
block low
    long 30.1
    high 3.4
    thick 5
block right
    long 3.4
    high 20.7, 20.7, 20.8
    thick 5
    against low.top
    flush with low.right
block left
    long 3.4
    high right.high
    thick 5
    against low.top
    flush with low.left
block lid
    long 30.1
    high 3.4
    thick 5
    against right.top
    flush with low.left
"""
    figures = made(text).figures
    high = 62.2 / 3
    assert figures.genus == 1
    assert figures.volume == pytest.approx(5 * (2 * 30.1 * 3.4 + 2 * 3.4 * high), rel=1e-6)
    assert figures.area == pytest.approx(
        2 * (2 * 30.1 * 3.4 + 2 * 3.4 * high) + 10 * (30.1 + 6.8 + high) + 10 * (30.1 - 6.8 + high), rel=1e-6
    )


@pytest.mark.parametrize("pitch", ["3.3", "0.1 + 0.2 + 3", "3.4 - 0.1"])
def test_copies_side_by_side_are_one_part(pitch: str) -> None:
    text = (
        "block b\n    long 3.3\n    wide 7.1\n    thick 2.0\n"
        f"row r\n    of b\n    count 7\n    pitch {pitch}\n"
    )
    result = made(text)
    assert result.figures.volume == pytest.approx(7 * 3.3 * 7.1 * 2.0)
    assert result.figures.area == pytest.approx(2 * (23.1 * 7.1 + 2 * 23.1 + 2 * 7.1))


def test_what_lies_a_hair_apart_stays_apart() -> None:
    """A hundredth of a mm is no rounding error: the part is told to fall apart."""
    text = PAIR.format(
        a=3.4, b=10.2, c=6.0, t=5.0, side="right", place="from plate.right near 0.01\n    right of plate"
    )
    result = makegood.compile_text(
        'recipe "r"' + text.replace("    against    plate.right\n", "    level with plate\n")
    )
    assert [one.code for one in result.diagnostics if one.is_error] == ["falls-apart"], said(result)
