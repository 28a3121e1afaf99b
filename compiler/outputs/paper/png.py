"""A sheet as PNG, drawn several times too large in grey and reduced, so that lines come out smooth."""

from __future__ import annotations

import io
import itertools
import math
from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any

from ...quantities.vectors import XY
from .lettering import font_file, letters_at, text_width
from .marks import Arc, Area, Line, Mark, Sheet, Text

FINER = 3


def png_bytes(sheet: Sheet, dpi: int = 150) -> bytes:
    """A sheet as a grey PNG of `dpi` dots to the inch."""
    from PIL import Image

    dots = dpi / 25.4
    size = (round(sheet.width * dots), round(sheet.height * dots))
    canvas = Image.new("L", (size[0] * FINER, size[1] * FINER), 255)
    draw_on(canvas, sheet.marks, sheet.height, dots * FINER)
    held = io.BytesIO()
    canvas.resize(size, Image.Resampling.BOX).save(held, "PNG", optimize=True, dpi=(dpi, dpi))
    return held.getvalue()


def draw_on(canvas: Any, marks: Sequence[Mark], height: float, dots: float) -> None:
    """Draw marks on a grey picture: `height` mm high, `dots` dots to the mm."""
    from PIL import ImageDraw

    pen = ImageDraw.Draw(canvas)

    def at(point: XY) -> XY:
        return (point[0] * dots - 0.5, (height - point[1]) * dots - 0.5)

    for mark in marks:
        if isinstance(mark, Line | Arc):
            whole = (
                mark.points()
                if isinstance(mark, Arc)
                else (*mark.points, *(mark.points[:1] if mark.closed else ()))
            )
            for stroke in strokes(whole, mark.role.pattern):
                wide = max(1, round(mark.role.width * dots))
                pen.line([at(one) for one in stroke], fill=0, width=wide, joint="curve")
        elif isinstance(mark, Area):
            _fill(canvas, [[at(one) for one in ring] for ring in mark.rings], round(255 * mark.shade))
        else:
            _write(canvas, pen, mark, at, dots)


def strokes(points: Sequence[XY], pattern: Sequence[float]) -> Iterator[list[XY]]:
    """A chain of points cut into the strokes of a pattern (strokes and gaps in turn, mm); whole without
    one.
    """
    if not pattern:
        yield list(points)
        return
    place, left, drawn, current = 0, pattern[0], True, [points[0]]
    for start, end in itertools.pairwise(points):
        long = math.dist(start, end)
        done = 0.0
        while long - done > left:
            done += left
            spot = (
                start[0] + (end[0] - start[0]) * done / long,
                start[1] + (end[1] - start[1]) * done / long,
            )
            if drawn:
                yield [*current, spot]
            place, drawn, current = (place + 1) % len(pattern), not drawn, [spot]
            left = pattern[place]
        left -= long - done
        current.append(end)
    if drawn and len(current) > 1:
        yield current


def _fill(canvas: Any, rings: Sequence[Sequence[XY]], grey: int) -> None:
    """Even-odd: each ring turns over what is filled inside it."""
    from PIL import Image, ImageChops, ImageDraw

    xs = [x for ring in rings for x, _ in ring]
    ys = [y for ring in rings for _, y in ring]
    left, top = math.floor(min(xs)), math.floor(min(ys))
    size = (math.ceil(max(xs)) - left + 1, math.ceil(max(ys)) - top + 1)
    mask = Image.new("1", size, 0)
    for ring in rings:
        own = Image.new("1", size, 0)
        ImageDraw.Draw(own).polygon([(x - left, y - top) for x, y in ring], fill=1)
        mask = ImageChops.logical_xor(mask, own)
    canvas.paste(grey, (left, top), mask.convert("L"))


@cache
def _font(size: int, bold: bool) -> Any:
    from PIL import ImageFont

    return ImageFont.truetype(str(font_file(bold)), size, layout_engine=ImageFont.Layout.BASIC)


def _write(canvas: Any, pen: Any, mark: Text, at: Any, dots: float) -> None:
    from PIL import Image, ImageDraw

    font = _font(max(1, round(mark.size * dots)), mark.bold)
    grey = round(255 * mark.shade)
    x, y = at(mark.at)
    if not mark.turn:
        for letter, along in letters_at(mark):
            pen.text((x + along * dots, y), letter, font=font, fill=grey, anchor="ls")
        return
    # written level in the middle of a square of its own, which is then turned about its middle
    reach = math.ceil((text_width(mark.text, mark.size, mark.bold) + 2 * mark.size) * dots)
    square = Image.new("L", (2 * reach + 1, 2 * reach + 1), 0)
    brush = ImageDraw.Draw(square)
    for letter, along in letters_at(mark):
        brush.text((reach + along * dots, reach), letter, font=font, fill=255, anchor="ls")
    turned = square.rotate(mark.turn, Image.Resampling.BICUBIC)
    canvas.paste(grey, (round(x) - reach, round(y) - reach), turned)
