"""What a drawing says of a snap arm: its facts in the words of the recipe."""

from __future__ import annotations

from ...facts import Claims, Entry

_IN_ORDER = ("long", "wide", "thick", "tip", "nose", "lead", "return", "fillet")
_KEYS = {"long": "size", "wide": "size", "thick": "size", "lead": "angle", "return": "angle"}


def told(entry: Entry, claims: Claims) -> list[str]:
    """Its sizes (mm) and angles, as many as the recipe gives."""
    said = []
    for word in _IN_ORDER:
        if (claim := entry.one(word)) is not None:
            size = claim.quantity(_KEYS.get(word, "number"))
            degrees = "\u00b0" if word in ("lead", "return") else ""
            said.append(f"{word} {round(size.value, 2):g}{degrees}")
    return said
