"""The tree back to text, in the one true layout.

Heads at the left edge, facts indented by four, their values in a column of their own; one blank line before a
statement that has facts; comments kept where they stood.  Numbers are written as typed (4.0 is not 4).
"""

from __future__ import annotations

from ..language.items import Binary, Bracket, Item, Name, Negative, Quoted
from .parsing import Written
from .types import Fact, Statement, Tree

INDENT = "    "
COLUMN = 11
COMMENT_GAP = "  # "


def item_text(item: Item) -> str:
    """One item as it is written."""
    if isinstance(item, Quoted):
        return f'"{item.text}"'
    if isinstance(item, Negative):
        return "-" + item_text(item.of)
    if isinstance(item, Bracket):
        return f"({item_text(item.of)})"
    if isinstance(item, Binary):
        return f"{item_text(item.left)} {item.sign} {item_text(item.right)}"
    return item.text


def fact_text(items: tuple[Item, ...]) -> str:
    """A line's items with one blank between them."""
    return " ".join(item_text(item) for item in items).replace(" ,", ",")


def up_to_made(fact: Fact) -> tuple[Item, ...]:
    """A line's items up to where `made ...` stands, or may stand: behind the size as read."""
    first = fact.lead + 1  # what stands right behind the leading words may be a name of any word
    for number, item in enumerate(fact.items[first:], start=first):
        if isinstance(item, Name) and item.text in ("made", "wanted", "from"):
            return fact.items[:number]
    return fact.items


def line_text(items: tuple[Item, ...], lead: int, column: int = COLUMN) -> str:
    """A line's items with one blank between them and the second column aligned where there is one."""
    first = _joined(items[:lead])
    rest = _joined(items[lead:])
    if not rest:
        return first
    gap = " " if rest.startswith(",") is False else ""
    return first.ljust(column - 1) + gap + rest if column else first + gap + rest


def _joined(items: tuple[Item, ...]) -> str:
    text = ""
    for item in items:
        said = item_text(item)
        glued = not text or said == "," or text.endswith("+-")
        text += said if glued else " " + said
    return text


def tree_text(tree: Tree) -> str:
    """A tree as a recipe without comments: reading it again gives an equal tree."""
    blocks = [_statement_text(statement) for statement in tree.statements]
    return "\n".join(blocks)


def _statement_text(statement: Statement) -> str:
    lines = [line_text(statement.head.items, len(statement.head.items), 0)]
    lines.extend(INDENT + line_text(fact.items, fact.lead) for fact in statement.facts)
    return "\n".join(lines) + "\n"


def tidy_rows(written: tuple[Written, ...]) -> str:
    """All rows of a recipe in the one true layout, comments kept."""
    lines: list[str] = []
    for number, one in enumerate(written):
        row, fact = one.row, one.fact
        if not row.text:
            if row.comments:
                lines.extend(
                    (INDENT if row.indented and _inside(written, number) else "") + _comment(c)
                    for c in row.comments
                )
            elif lines and lines[-1] != "":
                lines.append("")
            continue
        assert fact is not None
        if row.indented:
            text = INDENT + line_text(fact.items, fact.lead)
        else:
            text = line_text(fact.items, len(fact.items), 0)
            if _has_facts(written, number):
                _blank_before(lines)
        if len(row.comments) == 1:
            text += COMMENT_GAP + row.comments[0] if row.comments[0] else "  #"
            lines.append(text)
        else:
            lines.extend((INDENT if row.indented else "") + _comment(comment) for comment in row.comments)
            lines.append(text)
    while lines and lines[-1] == "":
        lines.pop()
    return "\n".join(lines) + "\n" if lines else ""


def _comment(text: str) -> str:
    return f"# {text}" if text else "#"


def _blank_before(lines: list[str]) -> None:
    """A blank line before a statement with facts; comments right above it stay with it."""
    at = len(lines)
    while at > 0 and lines[at - 1].startswith("#"):
        at -= 1
    if at > 0 and lines[at - 1] != "":
        lines.insert(at, "")


def _has_facts(written: tuple[Written, ...], number: int) -> bool:
    for one in written[number + 1 :]:
        if one.row.text:
            return one.row.indented
    return False


def _inside(written: tuple[Written, ...], number: int) -> bool:
    """A comment alone is written indented when facts go on below it."""
    return _has_facts(written, number)


__all__ = ["item_text", "tidy_rows", "tree_text"]
