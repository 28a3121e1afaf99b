"""How many columns of a terminal a text takes, and a text that can do a terminal no harm.

A recipe may hold anything that a mail program or a joker put there: escape sequences that paint or move the
cursor, marks that turn the writing direction round, letters two columns wide, accents that take none.  A
message quotes such lines and sets carets under them, so every character is first made harmless and then
measured."""

from __future__ import annotations

import unicodedata

SHOWN_INSTEAD = "\ufffd"
_HARMFUL_KINDS = frozenset(
    ("Cc", "Cf", "Cs", "Cn", "Zl", "Zp")
)  # controls, direction and joining marks, halves of characters, unassigned ones, separators


def harmless(text: str) -> str:
    """The text with a character for each of its own: a blank for tabs and line ends, a mark for what can't be
    shown.
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(_harmless_character(mark) for mark in text)


def _harmless_character(mark: str) -> str:
    if mark in "\t\n\r\x0b\x0c\u2028\u2029":
        return " "
    return SHOWN_INSTEAD if unicodedata.category(mark) in _HARMFUL_KINDS else mark


def columns(text: str) -> int:
    """Columns that a harmless text takes: 2 for wide East Asian letters, 0 for marks set over the letter
    before.

    Source: Unicode Standard Annex 11 (East Asian width W and F are two columns), general categories Mn and
    Me."""
    return len(text) if text.isascii() else sum(_columns_of(mark) for mark in text)


def _columns_of(mark: str) -> int:
    if unicodedata.category(mark) in ("Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(mark) in "WF" else 1
