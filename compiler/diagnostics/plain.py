"""Messages for programs, as JSON values."""

from __future__ import annotations

from .types import Diagnostic, Span


def to_json(diagnostic: Diagnostic, source_name: str) -> dict[str, object]:
    """The message as values that `json.dumps` takes; places are None where the whole file is meant."""
    return {
        "code": diagnostic.code,
        "severity": diagnostic.severity.value,
        "headline": diagnostic.headline,
        "file": source_name,
        **_place(diagnostic.span),
        "label": diagnostic.label,
        "others": [{**_place(other.span), "label": other.text} for other in diagnostic.others],
        "advice": list(diagnostic.advice),
    }


def _place(span: Span | None) -> dict[str, object]:
    if span is None:
        return {"line": None, "column": None, "end_column": None}
    return {"line": span.line, "column": span.start, "end_column": span.end}
