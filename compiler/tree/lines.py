"""One logical line into items, by the lark grammar; and, where it fails, why in the writer's terms."""

from __future__ import annotations

import os
import re
import sys
from functools import cache
from pathlib import Path

import lark

from ..diagnostics.types import Diagnostic, Severity
from ..language.grammar_files import grammar_text
from ..language.items import (
    Binary,
    Bracket,
    Expression,
    Item,
    Name,
    Negative,
    Numeral,
    Punctuation,
    Quoted,
)
from ..source.types import Row

MOST_NESTING = 20
MOST_SIGNS = 100

_COMMA_NUMBER = re.compile(r"(?<![\w.])\d+,\d+(?![\w,])")
_GLUED = re.compile(r"(?<![\w.-])\d[\d.]*[^\W\d]\w*")
_QUOTED = re.compile(r'"[^"]*"')


class _Build(lark.Transformer[lark.Token, list[Item]]):
    """Turns lark's reductions straight into our nodes; `row` is the line at work (places are looked up in
    it).
    """

    row: Row

    def line(self, children: list[Item | lark.Token]) -> list[Item]:
        return [self.as_item(child) for child in children]

    def as_item(self, child: Item | lark.Token) -> Item:
        if not isinstance(child, lark.Token):
            return child
        span = self.row.span(child.start_pos or 0, child.end_pos or 0)
        if child.type == "TEXT":
            return Quoted(str(child)[1:-1], span)
        return Punctuation("+-" if child.type == "GIVE" else str(child), span)

    def number(self, children: list[lark.Token]) -> Numeral:
        token = children[0]
        return Numeral(str(token), self.row.span(token.start_pos or 0, token.end_pos or 0))

    def name(self, children: list[lark.Token]) -> Name:
        token = children[0]
        return Name(str(token), self.row.span(token.start_pos or 0, token.end_pos or 0))

    def negative(self, children: list[Expression | lark.Token]) -> Negative:
        sign, of = children
        assert isinstance(sign, lark.Token) and not isinstance(of, lark.Token)
        start = self.row.span(sign.start_pos or 0, sign.end_pos or 0)
        return Negative(of, type(start)(start.line, start.start, max(start.end, of.span.end)))

    def bracket(self, children: list[Expression | lark.Token]) -> Bracket:
        opening, of, closing = children
        assert (
            isinstance(opening, lark.Token)
            and isinstance(closing, lark.Token)
            and not isinstance(of, lark.Token)
        )
        return Bracket(of, self.row.span(opening.start_pos or 0, closing.end_pos or 0))

    def binary(self, children: list[Expression | lark.Token]) -> Binary:
        left, sign, right = children
        assert not isinstance(left, lark.Token) and not isinstance(right, lark.Token)
        first = left.span
        end = right.span.end if right.span.line == first.line else first.end
        return Binary(str(sign), left, right, type(first)(first.line, first.start, max(first.end, end)))


@cache
def _parser() -> tuple[lark.Lark, _Build]:
    build = _Build(visit_tokens=False)
    text = grammar_text("line.lark")
    parser = lark.Lark(
        text, start="line", parser="lalr", lexer="basic", transformer=build, cache=_worked_out()
    )
    return parser, build


def ready() -> None:
    """Have the grammar's tables worked out and kept; called once, when makegood is set up."""
    _parser()


def _worked_out() -> str | bool:
    """The file beside our byte code where lark keeps its tables, so that only the first start works them out.

    lark itself checks that they belong to this grammar and this version of lark.  False where there are none
    and none may be written; never the common folder for temporary files, where others could put theirs."""
    folder = Path(__file__).parent / "__pycache__"
    kept = folder / f"line.{sys.implementation.cache_tag}.lark{lark.__version__}"
    if kept.exists() or (folder.is_dir() and not sys.dont_write_bytecode and os.access(folder, os.W_OK)):
        return str(kept)
    return False


def items_of(row: Row) -> list[Item] | Diagnostic:
    """The items of a line, or what keeps it from being one."""
    bad = _hostile(row) or _comma_number(row)
    if bad is not None:
        return bad
    parser, build = _parser()
    build.row = row
    try:
        found: object = parser.parse(row.text)
    except lark.exceptions.UnexpectedInput as error:
        return _explained(row, error)
    assert isinstance(found, list)
    return found


def _hostile(row: Row) -> Diagnostic | None:
    deepest = depth = signs = 0
    for mark in row.text:
        if mark == "(":
            depth += 1
            deepest = max(deepest, depth)
        elif mark == ")":
            depth -= 1
        elif mark in "+-*/":
            signs += 1
    if deepest > MOST_NESTING or (signs > MOST_SIGNS and '"' not in row.text):
        said = (
            f"the line nests {deepest} brackets deep"
            if deepest > MOST_NESTING
            else f"the line has {signs} signs"
        )
        advice = ("name a part of the sum with `let` and use the name here",)
        return Diagnostic("sum-too-long", Severity.ERROR, said, row.whole(), advice=advice)
    return None


def _comma_number(row: Row) -> Diagnostic | None:
    if "," not in row.text:
        return None
    bare = _QUOTED.sub(lambda text: " " * len(text.group()), row.text)
    seen = _COMMA_NUMBER.search(bare)
    if seen is None:
        return None
    first, second = seen.group().split(",")
    return Diagnostic(
        "comma-in-number",
        Severity.ERROR,
        f"`{seen.group()}`: one number or two?",
        row.span(seen.start(), seen.end()),
        advice=(f"one number: {first}.{second}   or   two readings: {first}, {second} (with a blank)",),
    )


def _explained(row: Row, error: lark.exceptions.UnexpectedInput) -> Diagnostic:
    text = row.text
    at = getattr(error, "pos_in_stream", None)
    at = len(text) - 1 if at is None or at < 0 or at >= len(text) else at
    if _QUOTED.sub("", text).count('"'):
        at = text.rindex('"')
        code, said, advice = "open-text", "a text begins with a quote and never ends", ('close it with "',)
    elif text.count("(") != text.count(")"):
        more = "(" if text.count("(") > text.count(")") else ")"
        at = text.index(more) if more == "(" else text.rindex(more)
        code, said, advice = (
            "open-bracket",
            f"a bracket `{more}` has no partner",
            ("close it, or leave it out",),
        )
    elif glued := _GLUED.search(_QUOTED.sub(lambda one: " " * len(one.group()), text)):
        span = row.span(glued.start(), glued.end())
        said = f"`{glued.group()}` is neither a number nor a name"
        advice = ("units are mm, cm, in, deg; a name begins with a letter",)
        return Diagnostic("glued-number", Severity.ERROR, said, span, advice=advice)
    elif not isinstance(error, lark.exceptions.UnexpectedCharacters) or text[at] in "+-*/=":
        code, said, advice = (
            "half-a-sum",
            "a sum is not finished here",
            ("write a number on both sides of the sign",),
        )
    else:
        code, said = "odd-character", f"`{text[at]}` means nothing here"
        advice = ("texts stand in double quotes; a comment begins with #",)
        if text[at] == ":":
            advice = ("a fact needs no colon: a blank does",)
    return Diagnostic(code, Severity.ERROR, said, row.span(at, at + 1), advice=advice)
