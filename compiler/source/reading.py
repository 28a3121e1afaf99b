"""Reads a recipe's text into rows, and answers what no recipe can be: too big, not text, endless lines.

Everything an editor or a mail program may do to a text is undone here once, so that no later room needs to
know of it: byte-order mark, CRLF, non-breaking blanks, typographic quotes and minus signs, accents written as
two characters. Lines are split at "\\n" alone, as editors count them, so the line numbers in messages agree
with the screen."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path

from ..diagnostics.types import Diagnostic, Severity, Span
from .types import Piece, Row, Source

MOST_BYTES = 24_000_000
MOST_LINE = 2_000
MOST_LINES = 1_000_000
MOST_CARRIED = 10_000

_NOT_TEXT = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]")
_ALIKE = str.maketrans(
    {
        "\u201c": '"',
        "\u201d": '"',
        "\u201e": '"',
        "\u00ab": '"',
        "\u00bb": '"',
        "\u2212": "-",
        "\u2010": "-",
        "\u2011": "-",
        "\u2013": "-",
        "\u00d7": "*",
        "\u00a0": " ",
        "\u202f": " ",
        "\u2009": " ",
        "\t": " ",
    }
)


def read_file(path: Path) -> tuple[Source, tuple[Diagnostic, ...]]:
    """Read a recipe from a file; raises OSError when the file can't be opened."""
    with path.open("rb") as stream:
        data = stream.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        return _refused(path.name, "file-too-big", f"{path.name} is larger than {MOST_BYTES // 1_000_000} MB")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        said = f"line {line} of {path.name} is not UTF-8 text"
        return _refused(
            path.name, "not-text", said, ("save it as UTF-8 in your editor", "is this a recipe at all?")
        )
    return read_text(text, path.name)


def read_text(text: str, name: str) -> tuple[Source, tuple[Diagnostic, ...]]:
    """Split a recipe's text into rows; lines that can't be used are answered and left out, the rest goes
    on.
    """
    if len(text) > MOST_BYTES:
        return _refused(name, "file-too-big", f"{name} is larger than {MOST_BYTES // 1_000_000} MB")
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if text.count("\n") > MOST_LINES:
        return _refused(name, "file-too-big", f"{name} has more than {MOST_LINES} lines")
    if not text.isascii():
        text = unicodedata.normalize("NFC", text).translate(_ALIKE)
    lines = tuple(text.expandtabs(4).split("\n"))
    if lines and lines[-1] == "":
        lines = lines[:-1]
    return _rows(name, lines)


def _refused(
    name: str, code: str, headline: str, advice: tuple[str, ...] = ()
) -> tuple[Source, tuple[Diagnostic, ...]]:
    return Source(name, (), ()), (Diagnostic(code, Severity.ERROR, headline, advice=advice),)


def _rows(name: str, lines: tuple[str, ...]) -> tuple[Source, tuple[Diagnostic, ...]]:
    rows: list[Row] = []
    found: list[Diagnostic] = []
    parts: list[tuple[str, Piece]] = []
    comments: list[str] = []
    indented = False
    for number, line in enumerate(lines, start=1):
        bad = _unusable(line, number)
        if bad is not None:
            found.append(bad)
            continue
        body, comment = _split_comment(line)
        stripped = body.strip()
        first = len(body) - len(body.lstrip())
        if not parts:
            indented = first > 0
        if comment is not None:
            comments.append(comment)
        if stripped:
            offset = parts[-1][1].offset + len(parts[-1][0]) + 1 if parts else 0
            parts.append((stripped, Piece(offset, number, first + 1)))
            if stripped.endswith(",") and number < len(lines):
                if offset < MOST_CARRIED:
                    continue
                said = f"the list that ends in line {number} is carried on over {len(parts)} lines"
                span = Span(number, first + 1, first + 1 + len(stripped))
                advice = ("share it out among several statements",)
                found.append(Diagnostic("line-too-long", Severity.ERROR, said, span, advice=advice))
        elif parts and number < len(lines) and comment is not None:
            continue  # a comment between the lines of a carried-on list
        pieces = tuple(piece for _, piece in parts) or (Piece(0, number, 1),)
        rows.append(Row(" ".join(text for text, _ in parts), indented, tuple(comments), pieces))
        if parts and not stripped:
            rows.append(Row("", False, (), (Piece(0, number, 1),)))
        parts, comments = [], []
    if parts:
        rows.append(
            Row(" ".join(text for text, _ in parts), indented, tuple(comments), tuple(p for _, p in parts))
        )
    return Source(name, lines, tuple(rows)), tuple(found)


def _unusable(line: str, number: int) -> Diagnostic | None:
    if len(line) > MOST_LINE:
        return Diagnostic(
            "line-too-long",
            Severity.ERROR,
            f"line {number} has {len(line)} characters, more than {MOST_LINE}",
            Span(number, 1, 2),
            advice=("a line that ends in a comma goes on in the next one",),
        )
    mark = _NOT_TEXT.search(line)
    if mark is None:
        return None
    said = f"line {number} holds a character that is not text (code {ord(mark.group())})"
    span = Span(number, mark.start() + 1, mark.end() + 1)
    return Diagnostic("not-text", Severity.ERROR, said, span, advice=("delete it and type the line anew",))


def _split_comment(line: str) -> tuple[str, str | None]:
    """The line without its comment, and the comment; a `#` inside a quoted text is not one."""
    if "#" not in line:
        return line, None
    quoted = False
    for at, mark in enumerate(line):
        if mark == '"':
            quoted = not quoted
        elif mark == "#" and not quoted:
            return line[:at], line[at + 1 :].strip()
    return line, None
