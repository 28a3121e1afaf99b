"""Rows of text into the syntax tree, one row at a time: a bad row costs that row, never the next one.

A statement whose head is understood keeps its name even when its facts are not, so that what leans on it is
not reported as unknown; it is marked damaged and later rooms leave it alone."""

from __future__ import annotations

import gc
import re

from msgspec import Struct, field

from .. import language
from ..diagnostics import nearest
from ..diagnostics.types import Diagnostic, Severity, Span
from ..language.items import Item, Name, Quoted
from ..language.matching import Mismatch, match
from ..language.shapes import Kind, Shape, kinds
from ..source.types import Piece, Row, Source
from .lines import items_of
from .types import Fact, Statement, Tree

MOST_STATEMENTS = 120_000
MOST_ROWS = 700_000
MOST_MESSAGES = 300
_HEAD = re.compile(r"(?P<kind>[^\W\d]\w*)(?:\s+(?P<name>[^\W\d]\w*(?:[.-]\w+)*))?")


class Written(Struct, frozen=True):
    """A row and what was understood of it (None: blank, comment alone, or not understood)."""

    row: Row
    fact: Fact | None


class _Open(Struct):
    """A statement that is still being read."""

    kind: Kind | None
    head: Fact | None
    name: str
    span: Span
    damaged: bool
    facts: list[Fact] = field(default_factory=list)


def parse_rows(source: Source) -> tuple[Tree, tuple[Written, ...], tuple[Diagnostic, ...]]:
    """The tree of a recipe, its rows as written (for the tidy layout), and every row that is not understood.

    A long recipe makes millions of small objects, none of them in a circle: looking for circles among them
    again and again would take longer than reading them, so the collector rests meanwhile."""
    too_big = _too_big(source)
    if too_big is not None:
        return Tree(()), (), (too_big,)
    resting = gc.isenabled()
    gc.disable()
    try:
        return _parsed(source)
    finally:
        if resting:
            gc.enable()


def _too_big(source: Source) -> Diagnostic | None:
    """A recipe nobody could have measured is answered before any of it is read: each line of it may cost a
    message.
    """
    heads = sum(1 for row in source.rows if row.text and not row.indented)
    if heads <= MOST_STATEMENTS and len(source.rows) <= MOST_ROWS:
        return None
    said = f"the recipe has {heads} statements in {len(source.rows)} lines"
    advice = (
        f"{MOST_STATEMENTS} statements and {MOST_ROWS} lines are the most: a row, ring or grid makes copies",
    )
    return Diagnostic("file-too-big", Severity.ERROR, said, advice=advice)


def _parsed(source: Source) -> tuple[Tree, tuple[Written, ...], tuple[Diagnostic, ...]]:
    statements: list[Statement] = []
    written: list[Written] = []
    found: list[Diagnostic] = []
    current: _Open | None = None
    read = 0
    for row in source.rows:
        fact: Fact | None = None
        if len(found) >= MOST_MESSAGES:
            said = f"more than {MOST_MESSAGES} lines are not understood; the rest was not read"
            advice = ("is this a recipe at all?   or   mend the first few and try again",)
            found.append(Diagnostic("too-many-mistakes", Severity.ERROR, said, row.whole(), advice=advice))
            break
        for lost in _lost(source, read, row.line):
            if lost.indented and current is not None:
                current.damaged = True
            elif not lost.indented:
                _close(current, statements)
                current = _salvaged(lost)
        read = row.pieces[-1].line
        if not row.text:
            written.append(Written(row, None))
            continue
        items = items_of(row)
        if not row.indented:
            if current is not None and _slipped_out(items, current.kind):
                current.damaged = True
            _close(current, statements)
            current, fact = _head(row, items, found)
        elif current is None:
            said = "an indented line needs a statement above it"
            advice = ("begin with a head at the left edge, such as: bore pivot",)
            found.append(Diagnostic("no-head", Severity.ERROR, said, row.whole(), advice=advice))
        elif current.kind is not None and _slipped_in(items, current.kind):
            assert not isinstance(items, Diagnostic)
            found.append(_unknown_fact(row, items, current.kind))
            _close(current, statements)
            current = _salvaged(row)
        elif current.kind is not None:
            fact = _fact(row, items, current.kind, found)
            if fact is None:
                current.damaged = True
            else:
                current.facts.append(fact)
        written.append(Written(row, fact))
    _close(current, statements)
    return Tree(tuple(statements)), tuple(written), tuple(found)


def _lost(source: Source, after: int, before: int) -> list[Row]:
    """Lines between two others that could not be used as text (they were answered): what they were is known
    all the same.
    """
    if before <= after + 1:
        return []
    lines = [(number, source.lines[number - 1]) for number in range(after + 1, before)]
    return [
        Row(line.strip(), line[:1].isspace(), (), (Piece(0, number, 1),))
        for number, line in lines
        if line.strip() and not line.lstrip().startswith("#")
    ]


def _first_word(items: list[Item] | Diagnostic) -> str:
    first = items[0] if not isinstance(items, Diagnostic) and items else None
    return first.text if isinstance(first, Name) else ""


def _slipped_out(items: list[Item] | Diagnostic, kind: Kind | None) -> bool:
    """A line at the left edge that is a fact of the statement above: what it says is missing there."""
    word = _first_word(items)
    return kind is not None and word in kind.by_first and word not in kinds()


def _slipped_in(items: list[Item] | Diagnostic, kind: Kind) -> bool:
    """A head that was set in: the facts below are its own."""
    word = _first_word(items)
    return word in kinds() and word not in kind.by_first and len(items) > 1 and isinstance(items[1], Name)


def _close(current: _Open | None, statements: list[Statement]) -> None:
    if current is not None and current.head is not None:
        kind = current.kind.word if current.kind else ""
        facts = tuple(current.facts)
        statements.append(Statement(kind, current.name, current.head, facts, current.damaged, current.span))


def _head(row: Row, items: list[Item] | Diagnostic, found: list[Diagnostic]) -> tuple[_Open, Fact | None]:
    if isinstance(items, Diagnostic):
        found.append(items)
        return _salvaged(row), None
    word = items[0].text if items and isinstance(items[0], Name) else ""
    kind = kinds().get(word)
    if kind is None:
        found.append(_unknown_kind(row, items, word))
        return _declared(items, row), None
    values = match(kind.head, items)
    if isinstance(values, Mismatch):
        found.append(_misshapen(items, (kind.head,), values))
        return _salvaged(row), None
    fact = Fact(word, values, tuple(items), 1, False, row.whole(), kind.head.slots)
    given = dict(values)
    name = given.get("name")
    label = name.text if isinstance(name, Name) else ""
    return _Open(kind, fact, label, name.span if isinstance(name, Name) else row.whole(), False), fact


def _salvaged(row: Row) -> _Open:
    """A head that is not understood as a whole still says its kind and declares its name, where these can be
    read.
    """
    seen = _HEAD.match(row.text)
    if seen is None:
        return _Open(None, None, "", row.whole(), True)
    kind, name = kinds().get(seen["kind"]), seen["name"]
    if not name or seen["kind"] == "recipe":
        return _Open(kind, Fact(seen["kind"], (), (), 1, False, row.whole()), "", row.whole(), True)
    span = row.span(seen.start("name"), seen.end("name"))
    return _Open(
        kind, Fact(seen["kind"], (("name", Name(name, span)),), (), 1, False, row.whole()), name, span, True
    )


def _declared(items: list[Item], row: Row) -> _Open:
    """A head of unknown kind still declares its name, so that only the head is complained of."""
    name = items[1] if len(items) > 1 else None
    if not isinstance(name, Name):
        return _Open(None, Fact("", (), tuple(items), 1, False, row.whole()), "", row.whole(), True)
    fact = Fact("", (("name", name),), tuple(items), 1, False, row.whole())
    return _Open(None, fact, name.text, name.span, True)


def _unknown_kind(row: Row, items: list[Item], word: str) -> Diagnostic:
    near = nearest(word, list(kinds())) if word else []
    holders = [kind.word for kind in kinds().values() if word in kind.by_first]
    if holders:
        advice = (f"`{word}` is a fact: indent the line, so that it belongs to the statement above",)
    elif meant := language.synonyms.kinds_for(word):
        advice = ("did you mean " + " or ".join(f"`{one}`" for one in meant) + "?",)
    elif near:
        advice = ("did you mean " + " or ".join(f"`{one}`" for one in near) + "?",)
    elif fact := language.synonyms.fact_for(word):
        advice = (f"`{fact}` is a fact: write it, indented, below the statement it belongs to",)
    else:
        advice = ("a statement begins with its kind, such as: " + language.synonyms.some_kinds(kinds()),)
    said = f"`{word}` is no kind of statement" if word else "a statement begins with its kind and a name"
    span = items[0].span if items else row.whole()
    return Diagnostic("unknown-kind", Severity.ERROR, said, span, advice=advice)


def _fact(row: Row, items: list[Item] | Diagnostic, kind: Kind, found: list[Diagnostic]) -> Fact | None:
    if isinstance(items, Diagnostic):
        found.append(items)
        return None
    first = items[0] if items else None
    shapes = kind.by_first.get(first.text, ()) if isinstance(first, Name) else ()
    if not shapes:
        found.append(_unknown_fact(row, items, kind))
        return None
    furthest = Mismatch(-1, "")
    for shape in shapes:
        values = match(shape, items)
        if not isinstance(values, Mismatch):
            word, whole = _word(shape), row.whole()
            return Fact(word, values, tuple(items), shape.lead, shape.many, whole, shape.slots)
        if values.at > furthest.at:
            furthest = values
    found.append(_misshapen(items, shapes, furthest, kind.word))
    return None


def _word(shape: Shape) -> str:
    """The leading words; where the shape begins with a choice of words, what follows names it (`on path`)."""
    return shape.word or " ".join(word for word in shape.text.split()[1:] if word.islower())


def _unknown_fact(row: Row, items: list[Item], kind: Kind) -> Diagnostic:
    first = items[0] if items else None
    word = first.text if isinstance(first, Name) else ""
    near = nearest(word, list(kind.by_first)) if word else []
    holders = [other.word for other in kinds().values() if word in other.by_first]
    advice: tuple[str, ...]
    if meant := language.synonyms.facts_for(word, kind):
        advice = ("did you mean " + " or ".join(f"`{one}`" for one in meant) + "?",)
        advice += ("`across` is twice the radius",) if word == "radius" else ()
    elif belongs := language.synonyms.elsewhere(word):
        advice = belongs
    elif behind := language.synonyms.said_behind(word, kind) if word else ():
        advice = (
            f"`{word}` stands further on in a line:",
            *(f"it reads: {shape.text}" for shape in behind[:4]),
        )
    elif near:
        advice = ("did you mean " + " or ".join(f"`{one}`" for one in near) + "?",)
    elif word in kinds():
        advice = (f"`{word}` begins a statement: write it at the left edge",)
    elif holders:
        advice = (f"`{word}` belongs to: " + ", ".join(holders), _takes(kind))
    else:
        advice = (_takes(kind),)
    said = f"`{kind.word}` has no fact `{word}`" if word else "a fact begins with a word"
    return Diagnostic(
        "unknown-fact", Severity.ERROR, said, first.span if first is not None else row.whole(), advice=advice
    )


def _takes(kind: Kind) -> str:
    return (
        f"`{kind.word}` takes: {language.synonyms.some_facts(kind)}"
        if kind.by_first
        else f"`{kind.word}` takes no facts"
    )


def _misshapen(items: list[Item], shapes: tuple[Shape, ...], seen: Mismatch, kind: str = "") -> Diagnostic:
    if seen.at < len(items):
        item = items[seen.at]
        what = f'"{item.text}"' if isinstance(item, Quoted) else f"`{getattr(item, 'text', '...')}`"
        if what == "`...`":
            what = "a sum"
        said = f"here stands {what}, but {seen.expected} is what fits"
        if seen.expected == "nothing more":
            said = f"the line should end before {what}"
        span = item.span
    else:
        said = f"the line ends too soon: {seen.expected} is missing"
        last = items[-1].span
        span = Span(last.line, max(last.start, last.end - 1), last.end)
    stuck = getattr(items[seen.at], "text", "") if seen.at < len(items) else ""
    behind = items[seen.at - 2 : seen.at] if seen.at > 1 else []
    if (
        len(behind) == 2
        and isinstance(behind[0], Name)
        and getattr(behind[1], "text", "") == "made"
        and seen.at < len(items)
    ):
        said, span = "`made` stands behind a size as read, and none is before it", items[seen.at - 1].span
        size = stuck or "6.4"
        either = (f"never read, only wanted so:  {size} wanted", f"read and made otherwise:  ... made {size}")
        return Diagnostic("misshapen-line", Severity.ERROR, said, span, advice=either)
    hints = language.synonyms.instead(kind, getattr(items[0], "text", ""), stuck) if items else ()
    extra = language.synonyms.too_much(stuck)
    advice = (*extra, *(f"it reads: {shape.text}" for shape in shapes[:4]), *hints)
    return Diagnostic("misshapen-line", Severity.ERROR, said, span, advice=advice)
