"""How much room a mark takes on its page: a text by the ink of its letters, an arrow by its drawing.

The middle of a mark is the middle of its capitals: what hangs below the line does not count.
"""

from __future__ import annotations

from ...facts import Entry
from ...quantities.typeface import Face, face
from ...quantities.vectors import XY

MOST_LETTERS = 80
WEIGHT = "Bold"
ARROW_LONG = 2.0
"""Length of an arrow over its breadth."""


def said(entry: Entry) -> str:
    """What a mark says; nothing for an arrow."""
    claim = entry.one("says")
    return claim.word_of("text") if claim is not None else ""


def lettered(text: str) -> str:
    """The letters of a text that the typeface has, no more than can be drawn."""
    letters = typeface().letters
    return "".join(one for one in text[:MOST_LETTERS] if ord(one) in letters)


def typeface() -> Face:
    """The typeface of marks: bold, so that its strokes print."""
    return face(WEIGHT)


def high(entry: Entry) -> None:
    """How far it reaches out of its page: no other size leans on that."""


def half(entry: Entry, made: bool) -> XY:
    """Half-sizes of a mark in mm, along its line and across it, as read and as made."""
    claim = entry.one("high")
    tall = claim.number("size") if claim is not None else 0.0
    if entry.has("arrow"):
        return 0.5 * ARROW_LONG * tall, 0.5 * tall
    left, right = typeface().ink(lettered(said(entry)))
    return 0.5 * (right - left) / typeface().capital * tall, 0.5 * tall
