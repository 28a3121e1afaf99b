"""Paper read back: PDF pages rasterised by pdfium, and lines on them measured in mm from the page's lower
left corner.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import numpy.typing as npt
import pypdfium2
from makegood.result import Result
from shapely import Polygon, union_all
from shapely.geometry.base import BaseGeometry

HERE = Path(__file__).resolve().parent
EXAMPLES = sorted((HERE.parents[1] / "examples").glob("*.mend"))
PAWL, LEVER = (
    HERE.parents[1] / "examples" / f"{name}.mend" for name in ("hose-reel-pawl", "roof-vent-lever")
)
RECIPES = sorted((HERE.parent / "parts" / "recipes").glob("*.mend"))
DPI = 600
DOT = 25.4 / DPI

Dark = npt.NDArray[np.float64]


def scans(pdf: bytes) -> list[Dark]:
    """Every page as ink from 0 (paper) to 1, rows from the bottom up, `DPI` dots to the inch."""
    with pypdfium2.PdfDocument(pdf) as book:
        return [
            1.0 - page.render(scale=DPI / 72, grayscale=True).to_numpy()[::-1].astype(float) / 255
            for page in book
        ]


def words(pdf: bytes) -> list[str]:
    """The text of every page."""
    with pypdfium2.PdfDocument(pdf) as book:
        return [page.get_textpage().get_text_range() for page in book]


def sizes(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of every page in mm."""
    with pypdfium2.PdfDocument(pdf) as book:
        return [(page.get_width() * 25.4 / 72, page.get_height() * 25.4 / 72) for page in book]


def ink_middle(scan: Dark, left: float, low: float, right: float, high: float, axis: str) -> float:
    """The middle of the ink in a window (mm), along x or y; fails where the window is empty."""
    part = scan[round(low / DOT) : round(high / DOT), round(left / DOT) : round(right / DOT)]
    weight = part.sum(axis=0 if axis == "x" else 1)
    assert weight.sum() > 0, "there is no ink"
    start = (round(left / DOT) if axis == "x" else round(low / DOT)) * DOT
    return start + float((weight * (np.arange(len(weight)) + 0.5)).sum() / weight.sum()) * DOT


def cross_middle(
    scan: Dark, x: float, y: float, inner: float, outer: float, wide: float = 0.6
) -> tuple[float, float]:
    """The middle of a cross near (x, y): each stroke measured from `inner` to `outer` mm on both sides of
    it.
    """
    xs = [
        ink_middle(scan, x - wide, y + a, x + wide, y + b, "x") for a, b in ((inner, outer), (-outer, -inner))
    ]
    ys = [
        ink_middle(scan, x + a, y - wide, x + b, y + wide, "y") for a, b in ((inner, outer), (-outer, -inner))
    ]
    return sum(xs) / 2, sum(ys) / 2


def shadow_of(result: Result, right: npt.ArrayLike, up: npt.ArrayLike) -> BaseGeometry:
    """The union of the mesh's triangles as seen in a view, by shapely."""
    assert result.mesh is not None
    flat = result.mesh.points @ np.array([right, up], dtype=float).T
    corners = flat[result.mesh.triangles]
    ways = corners[:, 1:] - corners[:, :1]
    area = ways[:, 0, 0] * ways[:, 1, 1] - ways[:, 0, 1] * ways[:, 1, 0]
    return union_all(
        [Polygon(one) for one in corners[np.abs(area) > 1e-9]], grid_size=1e-6
    )  # GEOS fails on slivers else
