"""Damage as texts suffer it: slips of the hand, lost lines, hostile numbers, bytes gone wrong."""

from __future__ import annotations

import re
from collections.abc import Callable
from random import Random

_WORD = re.compile(r"[^\s,]+")
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
NASTY = (
    "0",
    "-1",
    "-0.0",
    "1e6",
    "3,4",
    "999999999999",
    "9999",
    "0.000001",
    "1e-9",
    "1/0",
    "1/0 in",
    "0/3 in",
    "90 deg",
    "5 N",
    "1 kg",
    "50 %",
    "2 in",
    "400",
    "0.5",
    "1",
    "2",
    "3",
    "90",
    "180",
    "360",
    "20000",
    "1" * 300,
    "nan",
    "inf",
    "(",
    "-",
    "+-",
    "4 made",
    "about",
    "4 made 9999",
    "100 / 3",
    "9999 - 9998.999999",
)
ODD = (
    "\x00",
    "\x1b",
    "\u200b",
    "\u2028",
    "\ufeff",
    "é",
    "\u0301",
    "\U0001f529",
    "½",
    "²",
    "٣",
    "Ⅳ",
    "\u00a0",
    "\t",
    "\r",
    '"',
    "#",
    "=",
    "±",
    "°",
    "×",
    "−",
    "–",
    "\\",
    "\ud800",
    "%",
    "\x85",
    "\x0b",
    "\x0c",
)


def _lines(text: str, change: Callable[[list[str]], None]) -> str:
    lines = text.split("\n")
    change(lines)
    return "\n".join(lines)


def _replaced(text: str, pattern: re.Pattern[str], rnd: Random, by: Callable[[str], str]) -> str:
    found = list(pattern.finditer(text))
    if not found:
        return text
    one = rnd.choice(found)
    return text[: one.start()] + by(one.group()) + text[one.end() :]


def _cut_line(text: str, rnd: Random) -> str:
    return _lines(text, lambda lines: lines.pop(rnd.randrange(len(lines))) and None)


def _double_line(text: str, rnd: Random) -> str:
    return _lines(text, lambda lines: lines.insert(rnd.randrange(len(lines)), rnd.choice(lines)))


def _swap_words(text: str, rnd: Random) -> str:
    other = rnd.choice(_WORD.findall(text) or ["x"])
    return _replaced(text, _WORD, rnd, lambda _: other)


def _swap_numbers(text: str, rnd: Random) -> str:
    other = rnd.choice(_NUMBER.findall(text) or ["1"])
    return _replaced(text, _NUMBER, rnd, lambda _: other)


def _nasty_number(text: str, rnd: Random) -> str:
    return _replaced(text, _NUMBER, rnd, lambda _: rnd.choice(NASTY))


def _shifted_number(text: str, rnd: Random) -> str:
    return _replaced(
        text, _NUMBER, rnd, lambda said: f"{float(said) * rnd.choice((0.1, 0.5, 0.9, 1.1, 2, 10)):.3f}"
    )


def _flip(text: str, rnd: Random) -> str:
    data = bytearray(text.encode("utf-8", "replace"))
    if data:
        data[rnd.randrange(len(data))] ^= 1 << rnd.randrange(8)
    return data.decode("utf-8", "replace")


def _odd(text: str, rnd: Random) -> str:
    at = rnd.randrange(len(text) + 1)
    return text[:at] + rnd.choice(ODD) + text[at:]


def _truncated(text: str, rnd: Random) -> str:
    return text[: rnd.randrange(len(text) + 1)]


def _swap_lines(text: str, rnd: Random) -> str:
    def change(lines: list[str]) -> None:
        a, b = rnd.randrange(len(lines)), rnd.randrange(len(lines))
        lines[a], lines[b] = lines[b], lines[a]

    return _lines(text, change)


def _unindented(text: str, rnd: Random) -> str:
    def change(lines: list[str]) -> None:
        at = rnd.randrange(len(lines))
        lines[at] = lines[at].strip() if rnd.random() < 0.5 else "    " + lines[at]

    return _lines(text, change)


WAYS = (
    _cut_line,
    _cut_line,
    _double_line,
    _swap_words,
    _swap_words,
    _swap_numbers,
    _nasty_number,
    _nasty_number,
    _shifted_number,
    _shifted_number,
    _flip,
    _odd,
    _truncated,
    _swap_lines,
    _unindented,
)


def damaged(text: str, rnd: Random) -> str:
    """The text after one to four kinds of damage."""
    for _ in range(rnd.choice((1, 1, 1, 2, 2, 4))):
        text = rnd.choice(WAYS)(text, rnd)
    return text
