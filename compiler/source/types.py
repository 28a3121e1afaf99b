"""The text of a recipe, line by line, before anything in it is understood."""

from __future__ import annotations

from msgspec import Struct

from ..diagnostics.types import Span


class Piece(Struct, frozen=True):
    """A stretch of one line of the file inside a logical row: where it begins in the row, its line and its
    column.
    """

    offset: int
    line: int
    column: int


class Row(Struct, frozen=True):
    """One logical line: a head or a fact, a blank, or a comment that stands alone.

    `text` holds what is to be parsed (no indent, no comment, continued lines joined by a blank); `comments`
    what was said behind each `#`, in order; `indented` tells a fact from a head."""

    text: str
    indented: bool
    comments: tuple[str, ...]
    pieces: tuple[Piece, ...]

    @property
    def line(self) -> int:
        """Number of the file's line where this row begins, from 1."""
        return self.pieces[0].line

    def span(self, start: int, end: int) -> Span:
        """The place in the file of text[start:end]; a stretch over several lines is cut at the end of its
        first.
        """
        piece = self.pieces[0]
        stop = len(self.text)
        for following in self.pieces[1:]:
            if following.offset > start:
                stop = following.offset - 1
                break
            piece = following
        end = max(start + 1, min(end, stop if stop > start else end))
        first = start - piece.offset + piece.column
        return Span(piece.line, first, first + (end - start))

    def whole(self) -> Span:
        """The place of the whole row."""
        return self.span(0, max(1, len(self.text)))


class Source(Struct, frozen=True):
    """A recipe's text: its name (for messages), its lines as they are shown, and its rows as they are
    parsed.
    """

    name: str
    lines: tuple[str, ...]
    rows: tuple[Row, ...]
