"""A cut that ends flush with a flat of its body is open there, whatever the sizes: no skin of no thickness
closes it.

Volumes and surfaces are sums of boxes.  A skin has no volume but two faces, so the surface tells."""

from __future__ import annotations

import math
from random import Random

import pytest

from .making import made


def boxes(rnd: Random, low: float, high: float) -> float:
    return round(rnd.uniform(low, high), 2)


@pytest.mark.parametrize("side", ["left", "right", "top", "bottom"])
@pytest.mark.parametrize("mean", [False, True])
def test_a_notch_flush_with_a_side_is_open(side: str, mean: bool) -> None:
    """40.1 and 7.3 is one of the pairs whose halves add up to a rounding error: 13 of 72 ordinary ones
    did.
    """
    rnd = Random(5)
    for _ in range(12):
        long, wide, thick, across, high = (
            (40.1, 31.0, 1.6, 7.3, 1.0)
            if rnd.random() < 0.2
            else (
                boxes(rnd, 20, 80),
                boxes(rnd, 20, 40),
                boxes(rnd, 1, 4),
                boxes(rnd, 2, 9),
                boxes(rnd, 1, 9),
            )
        )
        read = f"{long}, {long}, {long + 0.1:.2f}" if mean else f"{long}"
        deep, along = (across, high) if side in ("left", "right") else (high, across)
        other = "bottom" if side in ("left", "right") else "left"
        result = made(
            f"block cover\n    long {read}\n    wide {wide}\n"
            f"    thick {thick}\nnotch cut\n    wide {across}\n    high {high}\n"
            f"    through cover\n    flush with cover.{side}\n    from cover.{other} near 9.5\n"
        )
        long += 0.1 / 3 if mean else 0.0
        figures = result.figures
        assert figures.genus == 0
        assert figures.volume == pytest.approx((long * wide - deep * along) * thick, rel=1e-5)
        assert figures.area == pytest.approx(
            2 * (long * wide - deep * along) + 2 * thick * (long + wide + deep), rel=1e-5
        )


def test_a_pocket_as_deep_as_its_body_is_thick_goes_through() -> None:
    rnd = Random(6)
    for _ in range(8):
        thick = boxes(rnd, 1, 9)
        text = f"block b\n    long 30\n    wide 20\n    thick {thick}\nbore hole\n    hex 8\n"
        result = made(f"{text}    deep {thick} from b.front\n    around b\n")
        flats = math.sqrt(3) / 2 * 64
        assert result.figures.genus == 1
        assert result.figures.volume == pytest.approx((600 - flats) * thick, rel=1e-5)


@pytest.mark.parametrize(
    "slope",
    ["3 at left, 12 at right", "12 at left, 3 at right", "5 at bottom, 9 at top", "6 at left, 6 at right"],
)
def test_on_a_slope_and_back_to_back(slope: str) -> None:
    """Two notches that meet in one plane make one opening of 5.3 + 7.7, in a block that stands square on a
    wedge.

    The wedge keeps its surface but for the foot of the block, which has the same area as its top: the sides
    are added."""
    plain = f"block w\n    long 60\n    wide 40\n    taper {slope}\n"
    text = (
        plain + "block b\n    on w.front\n    at 0, 0 from w\n    long 40.1\n    wide 31.0\n    thick 3.3\n"
        "notch one\n    on b.front\n    wide 5.3\n    high 6.1\n"
        "    through b\n    from b.left near 9.7\n    flush with b.top\n"
        "notch two\n    on b.front\n    wide 7.7\n    high 6.1\n"
        "    through b\n    from b.left near 15\n    flush with b.top\n"
    )
    with_block, bare = made(text).figures, made(plain).figures
    assert with_block.volume - bare.volume == pytest.approx((40.1 * 31.0 - 13.0 * 6.1) * 3.3, rel=1e-4)
    assert with_block.area - bare.area == pytest.approx(2 * 3.3 * (40.1 + 31.0 + 6.1), rel=1e-3)
