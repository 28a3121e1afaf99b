"""A message as it stands on a terminal: where and what, the lines it speaks of, what would do.

    catch.mend:14  hook could be in two places [two-places]
      12 | point hook 13 |  from pivot 15.0 14 |  from spine 2.4
         |  ^^^^^^^^^^^^^^ both readings are met at (14.81, 2.40) and at (-14.81, 2.40)
      say which:  right of pivot  or  left of pivot

Which lines are shown: those with a label, the head of the statement when it is near, and what lies between
when that is short; `MOST_ROWS` of the recipe at most.  The main place is marked with `^`, the others with
`-`.  A line longer than a screen is shown around its mark: a wrapped line would tear the marks away from what
they mark."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from .cells import columns, harmless
from .types import Diagnostic, Label, Severity

MOST_ROWS = 6
WIDEST = 100
HEAD_IS_NEAR = 8

_COLOURS = {Severity.ERROR: "35", Severity.WARNING: "33", Severity.NOTE: "36"}
_BEFORE = {Severity.ERROR: "", Severity.WARNING: "warning: ", Severity.NOTE: "note: "}


def render_terminal(diagnostic: Diagnostic, source_name: str, lines: Sequence[str], colour: bool) -> str:
    """The message over several lines, no line end at the last; escape sequences only of our own and if
    `colour`.
    """
    paint = _Paint(_COLOURS[diagnostic.severity], colour)
    place = harmless(source_name)
    if diagnostic.span is not None:
        place += f":{diagnostic.span.line}"
    said = paint.strong(_BEFORE[diagnostic.severity] + harmless(diagnostic.headline))
    rows = [f"{place}  {said} {paint.faint(f'[{diagnostic.code}]')}"]
    rows += _quoted(diagnostic, lines, paint)
    rows += [f"  {harmless(row)}" for advice in diagnostic.advice for row in advice.splitlines()]
    return "\n".join(rows)


class _Paint:
    """Weight for what is said, one colour for the marks, faint for the rest; plain text when no colour is
    wanted.
    """

    def __init__(self, tint: str, wanted: bool) -> None:
        self._tint = tint
        self._wanted = wanted

    def strong(self, text: str) -> str:
        return f"\x1b[1m{text}\x1b[0m" if self._wanted else text

    def mark(self, text: str) -> str:
        return f"\x1b[{self._tint}m{text}\x1b[0m" if self._wanted else text

    def faint(self, text: str) -> str:
        return f"\x1b[2m{text}\x1b[0m" if self._wanted else text


def _quoted(diagnostic: Diagnostic, lines: Sequence[str], paint: _Paint) -> list[str]:
    """The recipe's lines that the message speaks of, marked; nothing when it has no place in these lines."""
    labels = [] if diagnostic.span is None else [Label(diagnostic.span, diagnostic.label)]
    labels += diagnostic.others
    labels = [label for label in labels if 1 <= label.span.line <= len(lines)]
    shown = _lines_shown([label.span.line for label in labels], lines)
    width = len(str(shown[-1])) if shown else 0
    rows: list[str] = []
    for at, number in enumerate(shown):
        if at and number != shown[at - 1] + 1:
            rows.append(paint.faint(f"  {'...':>{width + 2}}"))
        here = [label for label in labels if label.span.line == number]
        text, skipped = _window(lines[number - 1], here)
        rows.append(f"  {paint.faint(f'{number:>{width}} |')} {text}".rstrip())
        for label in here:
            mark = "^" if label.span == diagnostic.span and label.text == diagnostic.label else "-"
            rows.append(f"  {paint.faint(' ' * width + ' |')} {_marks(label, text, skipped, mark, paint)}")
    return rows


def _lines_shown(labelled: list[int], lines: Sequence[str]) -> list[int]:
    """Numbers of the lines to show, ascending: labelled ones in their order of weight, heads, then short
    gaps.
    """
    shown = set(list(dict.fromkeys(labelled))[:MOST_ROWS])
    if labelled and len(shown) < MOST_ROWS:
        head = _head_of(labelled[0], lines)
        if labelled[0] - head <= HEAD_IS_NEAR:
            shown.add(head)
    for low, high in _gaps(sorted(shown)):
        if high - low - 1 <= MOST_ROWS - len(shown):
            shown.update(range(low + 1, high))
    return sorted(shown)


def _gaps(numbers: list[int]) -> list[tuple[int, int]]:
    """Neighbouring numbers with something between them, smallest gap first."""
    pairs = [(low, high) for low, high in pairwise(numbers) if high - low > 1]
    return sorted(pairs, key=lambda pair: (pair[1] - pair[0], pair))


def _head_of(number: int, lines: Sequence[str]) -> int:
    """Number of the head line above a fact: the nearest line that is not indented; the line itself if it is
    one.
    """
    for candidate in range(number, max(0, number - HEAD_IS_NEAR - 1), -1):
        line = lines[candidate - 1]
        if line.strip() and not line[0].isspace() and not line.startswith("#"):
            return candidate
    return number


def _window(line: str, labels: list[Label]) -> tuple[str, int]:
    """The line made harmless and cut to a screen's width about its first mark; and how many characters are
    left out.
    """
    text = harmless(line)
    if columns(text) <= WIDEST:
        return text, 0
    first = min((label.span.start - 1 for label in labels), default=0)
    skipped = max(0, min(first, len(text)) - WIDEST // 3)
    kept = text[skipped : skipped + WIDEST]
    while columns(kept) > WIDEST:
        kept = kept[:-1]
    behind = "..." if skipped + len(kept) < len(text) else ""
    if skipped:
        return "..." + kept + behind, skipped - 3
    return kept + behind, 0


def _marks(label: Label, text: str, skipped: int, mark: str, paint: _Paint) -> str:
    """Blanks up to the place, marks under it, then what is to be said there."""
    start = max(0, min(label.span.start - 1 - skipped, len(text)))
    end = max(start, min(label.span.end - 1 - skipped, len(text)))
    run = max(1, columns(text[start:end]))
    said = f" {harmless(label.text)}" if label.text else ""
    return " " * columns(text[:start]) + paint.mark(mark * run + said)
