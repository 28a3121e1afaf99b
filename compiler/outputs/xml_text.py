"""Text as it may stand in an XML 1.0 document, and names that the document's grammar takes.

Source: Extensible Markup Language (XML) 1.0, fifth edition: production [2] Char, section 2.4 for the escapes,
2.11 for line ends.  Of the references only the five named ones are written: readers of 3MF are met that
refuse numbered ones. A carriage return, which a reader would turn into a line feed, is therefore written as
one at once."""

from __future__ import annotations

import re
from collections.abc import Iterable

SHOWN_INSTEAD = "\ufffd"
_CANNOT_STAND = [
    *(code for code in range(32) if code not in b"\t\n\r"),
    *range(0xD800, 0xE000),
    0xFFFE,
    0xFFFF,
]
_WRITTEN = dict.fromkeys(_CANNOT_STAND, SHOWN_INSTEAD) | str.maketrans(
    {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&apos;"}
)


def xml_text(text: str) -> str:
    """The text escaped for an element, line ends as line feeds; characters XML 1.0 can't hold become
    U+FFFD.
    """
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    return lines.translate(_WRITTEN)


def xml_attribute(text: str) -> str:
    """The text escaped for an attribute, on one line: a reader makes blanks of line ends and tabs there
    anyway.
    """
    return xml_text(" ".join(text.split()))


def xml_names(fields: Iterable[str]) -> list[str]:
    """One XML name without a colon for each field, in the given order, all different even if capitals don't
    count.

    Letters, digits and `_` are kept, everything else becomes one `-`; a name taken already gets `-2`, `-3`
    ..."""
    names: list[str] = []
    taken: set[str] = set()
    for field in fields:
        plain = re.sub("[^A-Za-z0-9_]+", "-", field).strip("-") or "field"
        stem = plain if plain[0].isalpha() or plain[0] == "_" else f"_{plain}"
        name, count = stem, 1
        while name.casefold() in taken:
            count += 1
            name = f"{stem}-{count}"
        taken.add(name.casefold())
        names.append(name)
    return names
