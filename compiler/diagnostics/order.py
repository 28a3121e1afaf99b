"""One order for messages, whatever order the rooms found them in, and each of them once."""

from __future__ import annotations

from collections.abc import Iterable

from .types import Diagnostic, Severity, Span

_WEIGHT = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.NOTE: 2}
_WHOLE_FILE = Span(0, 0, 0)


def in_order(found: Iterable[Diagnostic]) -> tuple[Diagnostic, ...]:
    """The messages as they go down the file (those about the whole file first), identical ones once."""
    return tuple(sorted(set(found), key=_key))


def _key(diagnostic: Diagnostic) -> tuple[object, ...]:
    others = tuple((label.span, label.text) for label in diagnostic.others)
    return (
        diagnostic.span or _WHOLE_FILE,
        _WEIGHT[diagnostic.severity],
        diagnostic.code,
        diagnostic.headline,
        diagnostic.label,
        others,
        diagnostic.advice,
    )
