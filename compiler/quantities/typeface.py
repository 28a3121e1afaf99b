"""The one typeface of the project, read from its package; loaded only when something is lettered.

Source Sans Pro (SIL Open Font License 1.1) holds the Latin, Greek and Cyrillic letters that names are written
with."""

from __future__ import annotations

from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any


@cache
def font_file(weight: str = "Regular") -> Path:
    """The file of the typeface in a weight (Regular, Semibold, Bold); FileNotFoundError where its package is
    missing.
    """
    spec = find_spec("font_source_sans_pro")
    if spec is None or spec.origin is None:
        raise FileNotFoundError("the package font-source-sans-pro is missing")
    return Path(spec.origin).parent / "files" / f"SourceSansPro-{weight}.ttf"


class Face:
    """A font: letters, widths and outlines.  Lengths in em."""

    def __init__(self, weight: str) -> None:
        from fontTools.ttLib import TTFont

        font = TTFont(str(font_file(weight)), lazy=True)
        self.letters: dict[int, str] = font.getBestCmap()
        self.em = float(font["head"].unitsPerEm)
        self.widths: dict[str, float] = {
            name: wide / self.em for name, (wide, _) in font["hmtx"].metrics.items()
        }
        self._glyphs: Any = font.getGlyphSet()

    def width(self, letter: str) -> float:
        """How far a letter moves the pen."""
        return self.widths[self.letters[ord(letter)]]

    def outline(self, letter: str) -> str:
        """The outline of a letter as an SVG path, y up, in units of the font (`em` of them to an em)."""
        from fontTools.pens.svgPathPen import SVGPathPen

        pen = SVGPathPen(self._glyphs, ntos=lambda value: f"{value:g}")
        self._glyphs[self.letters[ord(letter)]].draw(pen)
        return str(pen.getCommands())

    def contours(self, letter: str) -> list[list[tuple[tuple[float, float], ...]]]:
        """The closed contours of a letter, y up, in em: each a list of pieces, a straight one of two points,
        a curve of three (parabola: start, control, end)."""
        from fontTools.pens.basePen import decomposeQuadraticSegment
        from fontTools.pens.recordingPen import DecomposingRecordingPen

        pen = DecomposingRecordingPen(self._glyphs)
        self._glyphs[self.letters[ord(letter)]].draw(pen)
        found: list[list[tuple[tuple[float, float], ...]]] = []
        here = start = (0.0, 0.0)
        for what, given in pen.value:
            points = [(x / self.em, y / self.em) for x, y in (one for one in given if one is not None)]
            if what == "moveTo":
                here = start = points[0]
                found.append([])
            elif what == "lineTo":
                found[-1].append((here, points[0]))
                here = points[0]
            elif what == "qCurveTo":
                if (
                    given[-1] is None
                ):  # a contour of control points only begins midway between the last and the first
                    here = start = (
                        0.5 * (points[-1][0] + points[0][0]),
                        0.5 * (points[-1][1] + points[0][1]),
                    )
                    points.append(start)
                    found.append([])
                for control, end in decomposeQuadraticSegment(points):
                    found[-1].append((here, control, end))
                    here = end
            elif here != start:
                found[-1].append((here, start))
        return [one for one in found if one]

    @property
    def capital(self) -> float:
        """Height of a capital, in em."""
        return max(y for one in self.contours("H") for piece in one for _, y in piece)

    def ink(self, text: str) -> tuple[float, float]:
        """Where the ink of a text begins and ends, from the pen's start, in em (0, 0 without any)."""
        pen, left, right = 0.0, float("inf"), float("-inf")
        for letter in text:
            xs = [pen + x for one in self.contours(letter) for piece in one for x, _ in piece]
            left, right = min([left, *xs]), max([right, *xs])
            pen += self.width(letter)
        return (left, right) if left < right else (0.0, 0.0)


@cache
def face(weight: str = "Regular") -> Face:
    """The typeface in a weight, opened once."""
    return Face(weight)
