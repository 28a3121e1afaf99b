"""Sheets as PDF: one page each at true size, text as text in an embedded typeface, no clock and no random
number.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import cache
from typing import Any

from ...quantities.vectors import XY
from .lettering import drawable, font_file
from .marks import Arc, Area, Line, Mark, Role, Sheet, Text

POINT = 25.4 / 72
"""One point of PDF in mm (ISO 32000-1, 8.3.2.3)."""


def pdf_bytes(sheets: Sequence[Sheet], title: str) -> bytes:
    """The sheets as one PDF, a page each."""
    from reportlab.pdfgen.canvas import Canvas

    held = io.BytesIO()
    canvas = Canvas(held, invariant=1, pageCompression=1, lang="en")
    canvas.setTitle(drawable(title))
    canvas.setCreator("makegood")
    canvas.setProducer("makegood")
    canvas.setViewerPreference("PrintScaling", "None")
    for sheet in sheets:
        canvas.setPageSize((sheet.width / POINT, sheet.height / POINT))
        canvas.scale(1 / POINT, 1 / POINT)
        canvas.setLineJoin(1)
        for mark in sheet.marks:
            _draw(canvas, mark)
        canvas.showPage()
    canvas.save()
    return held.getvalue()


@cache
def _font(bold: bool) -> str:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    name = "makegood-bold" if bold else "makegood"
    pdfmetrics.registerFont(TTFont(name, str(font_file(bold))))
    return name


def _draw(canvas: Any, mark: Mark) -> None:
    if isinstance(mark, Line):
        _stroke(canvas, mark.role, mark.points, mark.closed)
    elif isinstance(mark, Arc):
        _round(canvas, mark)
    elif isinstance(mark, Area):
        path = canvas.beginPath()
        for ring in mark.rings:
            _follow(path, ring, True)
        canvas.setFillGray(mark.shade)
        canvas.drawPath(path, stroke=0, fill=1, fillMode=0)
    else:
        _write(canvas, mark)


def _pen(canvas: Any, role: Role) -> None:
    canvas.setStrokeGray(0)
    canvas.setLineWidth(role.width)
    canvas.setDash(list(role.pattern))


def _follow(path: Any, points: Sequence[XY], closed: bool) -> None:
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    if closed:
        path.close()


def _stroke(canvas: Any, role: Role, points: Sequence[XY], closed: bool) -> None:
    _pen(canvas, role)
    path = canvas.beginPath()
    _follow(path, points, closed)
    canvas.drawPath(path, stroke=1, fill=0)


def _round(canvas: Any, mark: Arc) -> None:
    whole = abs(mark.sweep) >= 6.283185
    points = mark.points()
    _stroke(canvas, mark.role, points[:-1] if whole else points, whole)


def _write(canvas: Any, mark: Text) -> None:
    """The text in one run: the typeface has the same widths here as where they were measured."""
    words = drawable(mark.text, mark.bold)
    if not words.strip():
        return
    canvas.saveState()
    canvas.setFillGray(mark.shade)
    canvas.translate(*mark.at)
    if mark.turn:
        canvas.rotate(mark.turn)
    canvas.setFont(_font(mark.bold), mark.size)
    canvas.drawString(0, 0, words)
    canvas.restoreState()
