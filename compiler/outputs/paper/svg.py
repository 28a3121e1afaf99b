"""Sheets as SVG 1.1: text as outlines, so that it looks the same where the typeface is missing.

Each text keeps its words in `aria-label`, each line its role as its class.  Lengths are mm, the drawing is of
true size."""

from __future__ import annotations

from collections.abc import Iterator
from xml.sax.saxutils import quoteattr

from ...quantities.vectors import XY
from ..xml_text import xml_text
from .lettering import drawable, face, letters_at
from .marks import Arc, Area, Line, Mark, Role, Sheet, Text


def svg_bytes(sheet: Sheet, title: str) -> bytes:
    """One sheet as an SVG file."""
    letters = sorted(
        {(letter, one.bold) for one in sheet.marks if isinstance(one, Text) for letter, _ in letters_at(one)}
    )
    names = {key: f"l{number}" for number, key in enumerate(letters)}
    rows = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<svg xmlns="http://www.w3.org/2000/svg" '
        f'xmlns:xlink="http://www.w3.org/1999/xlink" width="{_n(sheet.width)}mm" '
        f'height="{_n(sheet.height)}mm" viewBox="0 0 {_n(sheet.width)} {_n(sheet.height)}">',
        f"<title>{xml_text(title)}</title>",
        f"<style>{_styles()}</style>",
        "<defs>",
        *(f'<path id="{names[key]}" d="{face(key[1]).outline(key[0])}"/>' for key in letters),
        "</defs>",
        f'<rect width="{_n(sheet.width)}" height="{_n(sheet.height)}" fill="#fff"/>',
    ]
    for mark in sheet.marks:
        rows.extend(_mark(mark, sheet.height, names))
    return ("\n".join([*rows, "</svg>"]) + "\n").encode("utf-8")


def _styles() -> str:
    rules = ["path{stroke-linejoin:round}"]
    for role in Role:
        dashes = f"stroke-dasharray:{' '.join(_n(one) for one in role.pattern)};" if role.pattern else ""
        rules.append(f".{role.name.lower()}{{fill:none;stroke:#000;stroke-width:{_n(role.width)};{dashes}}}")
    return "".join(rules)


def _mark(mark: Mark, height: float, names: dict[tuple[str, bool], str]) -> Iterator[str]:
    if isinstance(mark, Line):
        yield f'<path class="{mark.role.name.lower()}" d="{_path(mark.points, mark.closed, height)}"/>'
    elif isinstance(mark, Arc):
        yield f'<path class="{mark.role.name.lower()}" d="{_arc(mark, height)}"/>'
    elif isinstance(mark, Area):
        grey = f"{round(255 * mark.shade):02x}"
        path = "".join(_path(one, True, height) for one in mark.rings)
        yield f'<path class="area" fill="#{grey * 3}" fill-rule="evenodd" d="{path}"/>'
    else:
        yield from _text(mark, height, names)


def _text(mark: Text, height: float, names: dict[tuple[str, bool], str]) -> Iterator[str]:
    words = drawable(mark.text, mark.bold)
    if not words.strip():
        return
    scale = mark.size / face(mark.bold).em
    grey = f"{round(255 * mark.shade):02x}"
    x, y = mark.at
    turn = f" rotate({_n(-mark.turn)})" if mark.turn else ""
    yield (
        f'<g class="text" role="img" aria-label={quoteattr(words)} fill="#{grey * 3}" '
        f'transform="translate({_n(x)} {_n(height - y)}){turn} scale({scale:.6f} {-scale:.6f})">'
    )
    for letter, along in letters_at(mark):
        if letter != " ":
            yield f'<use xlink:href="#{names[letter, mark.bold]}" x="{_n(along / scale)}"/>'
    yield "</g>"


def _path(points: tuple[XY, ...], closed: bool, height: float) -> str:
    return "M" + "L".join(f"{_n(x)} {_n(height - y)}" for x, y in points) + ("Z" if closed else "")


def _arc(mark: Arc, height: float) -> str:
    """Two arcs at least, because one that ends where it starts is none."""
    ends = Arc(mark.role, mark.centre, mark.radius, mark.start, mark.sweep).points(chord=1e9)
    size, way = _n(mark.radius), 0 if mark.sweep > 0 else 1
    first, *others = [f"{_n(x)} {_n(height - y)}" for x, y in ends]
    return f"M{first}" + "".join(f"A{size} {size} 0 0 {way} {one}" for one in others)


def _n(value: float) -> str:
    return f"{round(value, 4) + 0.0:.4f}".rstrip("0").rstrip(".") or "0"
