"""Room for text: each text gets a place where it lies on no other text, and if it can be on no line.

The first of the wanted places that is free is taken; of several that only lines run through, the one with the
fewest."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import numpy as np
import numpy.typing as npt

from ...quantities.arrays import Floats
from ...quantities.vectors import XY
from .lettering import text_box
from .marks import Text

Box = tuple[float, float, float, float]

AIR = 0.6  # mm between two texts


class Placer:
    """Keeps account of what is taken on a sheet or in a part of it (`bounds`: left, low, right, high in
    mm).
    """

    def __init__(self, bounds: Box) -> None:
        self.bounds = bounds
        self._boxes: list[Box] = []
        self._lines: list[Floats] = []
        self._hatches: list[Floats] = []
        self._hatched: Floats | None = None
        self._all: Floats | None = None
        self._boxed: Floats | None = None

    def keep_clear(self, box: Box) -> None:
        """No text may lie here."""
        self._boxes.append(box)
        self._boxed = None

    def avoid(self, points: Sequence[XY], closed: bool = False) -> None:
        """Text should not lie on this chain of lines."""
        chain = np.array([*points, points[0]] if closed else points, dtype=np.float64)
        if len(chain) > 1:
            self._lines.append(np.concatenate([chain[:-1], chain[1:]], axis=1))
            self._all = None

    def hatched(self, stroke: Sequence[XY]) -> None:
        """Text should not lie on this stroke either, but lines may cross it freely."""
        self._hatches.append(np.array([[*stroke[0], *stroke[1]]], dtype=np.float64))
        self._hatched = None

    def put(self, wanted: Iterable[Text], bearable: int = 0) -> Text | None:
        """The best of the wanted places, taken from now on; None where each lies on another text or off the
        bounds.

        A place that at most `bearable` lines run through is taken at once."""
        best: tuple[int, Text] | None = None
        for text in wanted:
            box = text_box(text)
            if not self.free(box):
                continue
            crossed = self.crossed(box)
            if best is None or crossed < best[0]:
                best = (crossed, text)
            if crossed <= bearable:
                break
        if best is None:
            return None
        self.keep_clear(text_box(best[1]))
        return best[1]

    def free(self, box: Box) -> bool:
        """True where a box lies inside the bounds and on nothing that is kept clear."""
        left, low, right, high = self.bounds
        if box[0] < left or box[1] < low or box[2] > right or box[3] > high:
            return False
        kept = self._kept()
        near = (kept[:, 0] < box[2] + AIR) & (box[0] < kept[:, 2] + AIR)
        return not (near & (kept[:, 1] < box[3] + AIR) & (box[1] < kept[:, 3] + AIR)).any()

    def struck(self, start: XY, end: XY, air: float = 0.3) -> bool:
        """True where a stroke runs through a text (or anything else that is kept clear)."""
        kept = self._kept()
        stroke = np.broadcast_to(np.array([*start, *end]), (len(kept), 4))
        return bool(_within(stroke, kept + np.array([-air, -air, air, air])).any())

    def _kept(self) -> Floats:
        if self._boxed is None:
            self._boxed = np.array(self._boxes, dtype=np.float64).reshape(-1, 4)
        return self._boxed

    def met(self, start: XY, end: XY) -> int:
        """How many of the avoided strokes a stroke crosses."""
        lines = self._strokes()
        if not len(lines):
            return 0
        ax, ay, bx, by = lines.T
        dx, dy = end[0] - start[0], end[1] - start[1]
        one, two = dx * (ay - start[1]) - dy * (ax - start[0]), dx * (by - start[1]) - dy * (bx - start[0])
        three = (bx - ax) * (start[1] - ay) - (by - ay) * (start[0] - ax)
        four = (bx - ax) * (end[1] - ay) - (by - ay) * (end[0] - ax)
        return int(((one * two < 0) & (three * four < 0)).sum())

    def _strokes(self) -> Floats:
        if self._all is None:
            self._all = np.concatenate(self._lines) if self._lines else np.zeros((0, 4))
        return self._all

    def crossed(self, box: Box) -> int:
        """How many strokes run through a box."""
        if self._hatched is None:
            self._hatched = np.concatenate(self._hatches) if self._hatches else np.zeros((0, 4))
        found = 0
        for lines in (self._strokes(), self._hatched):
            found += int(_within(lines, np.broadcast_to(np.array(box), (len(lines), 4))).sum())
        return found


def _within(lines: Floats, boxes: Floats) -> npt.NDArray[np.bool_]:
    """Which strokes (n, 4) run through their box (n, 4): Liang and Barsky's test."""
    t0, t1 = np.zeros(len(lines)), np.ones(len(lines))
    for axis in range(2):
        start, way = lines[:, axis], lines[:, axis + 2] - lines[:, axis]
        still = way == 0
        safe = np.where(still, 1.0, way)
        one, two = (boxes[:, axis] - start) / safe, (boxes[:, axis + 2] - start) / safe
        t0 = np.where(still, t0, np.maximum(t0, np.minimum(one, two)))
        t1 = np.where(still, t1, np.minimum(t1, np.maximum(one, two)))
        t1 = np.where(still & ((start <= boxes[:, axis]) | (start >= boxes[:, axis + 2])), -1.0, t1)
    found: npt.NDArray[np.bool_] = t0 < t1
    return found


def around(
    at: XY, radius: float, text: str, size: float, far: Sequence[float] = (1.5, 4, 8, 13, 20, 30)
) -> Iterator[Text]:
    """Places for a text around a round thing, the nearest first, each distance in eight directions."""
    left, low, right, high = text_box(Text((0.0, 0.0), text, size))
    wide, up, down = right - left, high, -low
    for away in far:
        for turn in (45, 135, 315, 225, 0, 180, 90, 270):
            c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
            x, y = at[0] + c * (radius + away), at[1] + s * (radius + away)
            x -= 0.0 if c > 0.1 else wide if c < -0.1 else 0.5 * wide
            y += down if s > 0.1 else -up if s < -0.1 else 0.5 * (down - up)
            yield Text((x, y), text, size)


def leader(text: Text, at: XY, radius: float) -> tuple[XY, XY]:
    """A leader from the nearest point of a text's base line to the rim of a round thing."""
    left, low, right, high = text_box(text)
    x = min(max(at[0], left), right)
    y = low + 0.25 * (high - low) if at[1] < low else high if at[1] > high else 0.5 * (low + high)
    x, y = (x, low) if at[1] < low else (x, high) if at[1] > high else (left if at[0] < left else right, y)
    long = math.hypot(at[0] - x, at[1] - y)
    share = max(0.0, long - radius) / long if long else 0.0
    return (x, y), (x + (at[0] - x) * share, y + (at[1] - y) * share)
