"""Which line of a statement a plain reason speaks of."""

from __future__ import annotations

from ..diagnostics.types import Span, Trouble
from ..facts import Entry
from ..facts.needs import THREAD_WORDS

_OUTLINED = ("outline", "belt", "chain", "merge", "path")
_SPEAKS_OF_LINES: dict[str, tuple[str, ...]] = {
    "bend-too-tight": ("turns inside",),
    "bevel-too-large": ("bevel", "round", "hollow"),
    "edge-on": ("on",),
    "flat-corner": ("between",),
    "flat-misses": ("flat", "flats", "hex", "square"),
    "no-wall": ("rim",),
    "flats-apart": ("between",),
    "line-misses": _OUTLINED,
    "no-arc": _OUTLINED,
    "mouth-too-small": ("counterbore", "countersink"),
    "no-corner": ("round inside", "round outside"),
    "no-such-side": ("flat", "flats"),
    "no-tangent": _OUTLINED,
    "not-parallel": ("deep",),
    "outline-crosses": _OUTLINED,
    "outline-too-short": _OUTLINED,
    "outline-two-sided": _OUTLINED,
    "ramp-too-long": ("ramp",),
    "round-too-large": ("round inside", "round outside"),
    "slot-too-short": ("long",),
    "which-flat": ("deep",),
    "thread-misses": THREAD_WORDS,
    "bad-thread": THREAD_WORDS,
    "thread-too-short": THREAD_WORDS,
    "which-pitch": THREAD_WORDS,
    "zone-does-nothing": ("to",),
    "zone-outside": ("along", "collar", "inside"),
    "zone-too-deep": ("by", "to"),
}
"""Which facts of a statement a plain reason speaks of, where its code says so."""


def line_of(trouble: Trouble, entry: Entry) -> Span:
    """The line of a statement that a reason quotes, or speaks of where only one can be meant; else its
    head.
    """
    if trouble.span is not None:
        return trouble.span
    quoted = [one for one in entry.claims if f"`{one.text}`" in trouble.says]
    if quoted:
        return quoted[0].span
    claims = entry.all(*_SPEAKS_OF_LINES.get(trouble.code, ()))
    return claims[0].span if len(claims) == 1 else entry.span
