"""The one typeface of all paper, and how much room a text takes.

Source Sans Pro (SIL Open Font License 1.1) comes as a package; it holds the Latin, Greek and Cyrillic letters
that names are written with.  What it lacks is first taken apart (a letter without its rare accent) and else
shown as `?`. The sign for a diameter, which it lacks too, is written with the letter that looks like it."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from ...quantities import typeface
from ...quantities.vectors import XY
from .marks import Text

DIAMETER = "\u00d8"
ASCENT, DESCENT = 0.75, 0.25
"""Highest and lowest reach of letters over and under the base line, in em."""


def font_file(bold: bool = False) -> Path:
    """The file of the typeface; raises FileNotFoundError where its package is not installed."""
    return typeface.font_file("Semibold" if bold else "Regular")


def face(bold: bool = False) -> typeface.Face:
    """The typeface, opened once."""
    return typeface.face("Semibold" if bold else "Regular")


@cache
def drawable(text: str, bold: bool = False) -> str:
    """The text with only letters that the typeface has, in one line, control marks left out."""
    letters = face(bold).letters
    found: list[str] = []
    for mark in unicodedata.normalize("NFC", text):
        if ord(mark) in letters:
            found.append(mark)
        elif mark.isspace():
            found.append(" ")
        elif unicodedata.category(mark)[0] not in "CM":
            plain = [
                one
                for one in unicodedata.normalize("NFKD", mark)
                if ord(one) in letters and not unicodedata.combining(one)
            ]
            found.append("".join(plain) or "?")
    return "".join(found)


@cache
def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of a text in mm at `size` mm to the em (no kerning: every writer sets the letters one by one)."""
    font = face(bold)
    return size * sum(font.width(letter) for letter in drawable(text, bold))


def text_box(mark: Text) -> tuple[float, float, float, float]:
    """The box round a text, left, low, right, high in mm, with the full height of letters."""
    wide = text_width(mark.text, mark.size, mark.bold)
    c, s = _way(mark.turn)
    corners = [
        (x * c - y * s, x * s + y * c)
        for x in (0.0, wide)
        for y in (-DESCENT * mark.size, ASCENT * mark.size)
    ]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return (mark.at[0] + min(xs), mark.at[1] + min(ys), mark.at[0] + max(xs), mark.at[1] + max(ys))


def text_boxes(mark: Text) -> list[tuple[float, float, float, float]]:
    """Boxes that cover a text: one, or of a slanting text several small ones along it, which take less
    room.
    """
    if mark.turn % 90 == 0:
        return [text_box(mark)]
    wide = text_width(mark.text, mark.size, mark.bold)
    pieces = max(1, math.ceil(wide / mark.size))
    c, s = _way(mark.turn)
    found = []
    for number in range(pieces):
        start, stop = wide * number / pieces, wide * (number + 1) / pieces
        corners = [
            (x * c - y * s, x * s + y * c)
            for x in (start, stop)
            for y in (-DESCENT * mark.size, ASCENT * mark.size)
        ]
        xs, ys = [mark.at[0] + x for x, _ in corners], [mark.at[1] + y for _, y in corners]
        found.append((min(xs), min(ys), max(xs), max(ys)))
    return found


def _way(turn: float) -> XY:
    """Cosine and sine of degrees, exact along the sheet's axes."""
    if turn % 90 == 0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(turn // 90) % 4]
    return math.cos(math.radians(turn)), math.sin(math.radians(turn))


def letters_at(mark: Text) -> Iterator[tuple[str, float]]:
    """Each letter of a text with how far along its base line (mm) the pen stands."""
    along = 0.0
    font = face(mark.bold)
    for letter in drawable(mark.text, mark.bold):
        yield letter, along
        along += mark.size * font.width(letter)


def shortened(text: str, size: float, room: float, bold: bool = False) -> str:
    """The text, cut with an ellipsis so that it takes no more than `room` mm."""
    text = drawable(text, bold)
    if text_width(text, size, bold) <= room:
        return text
    while text and text_width(text + "\u2026", size, bold) > room:
        text = text[:-1]
    return text.rstrip() + "\u2026"


def wrapped(text: str, size: float, room: float, most: int = 20, bold: bool = False) -> list[str]:
    """The text in lines no wider than `room` mm, broken at blanks; at most `most` lines, the last cut
    short.
    """
    lines: list[str] = []
    for word in drawable(text[:4000], bold).split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, bold) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    if len(lines) > most:
        lines = [*lines[: most - 1], " ".join(lines[most - 1 :])]
    return [shortened(one, size, room, bold) for one in lines]
