"""The size across that a fit word asks for: by the thing, size or screw that a hole or peg goes with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..diagnostics import nearest
from ..diagnostics.types import Trouble
from ..language.items import Name, Reading, Word
from ..tree.types import Fact
from .fits import SCREW, fitted
from .sums import Unclear

if TYPE_CHECKING:
    from .sizes import Sizes


def fit_across(sizes: Sizes, fact: Fact, kind: str) -> float:
    """The size across (mm) of a hole or peg that `turns on`, `clears`, `bites` its mate; raises Unclear."""
    size, screw = _mate(sizes, fact)
    series = fact.get("series")
    word = series.text if isinstance(series, Word) else "medium"
    try:
        across = fitted(fact.word, size, screw, word, kind == "peg")
    except Trouble as trouble:
        raise sizes.refuse(trouble.code, trouble.says, fact.span, trouble.advice) from None
    if across <= 0:
        said = f"`{fact.word}` leaves {across:.4g} mm across: a size must be more than nothing"
        raise sizes.refuse("bad-size", said, fact.span)
    return across


def _mate(sizes: Sizes, fact: Fact) -> tuple[float | None, str]:
    """The size of what the hole or peg goes with, or the screw's name; raises Unclear."""
    mate = fact.get("mate") or fact.get("screw")
    if isinstance(mate, Reading):
        return sizes.reading(mate).value, ""
    if isinstance(mate, Name | Word) and SCREW.match(mate.text) and mate.text not in sizes.names.declared:
        return None, mate.text
    if isinstance(mate, Name):
        if not sizes.is_known(mate):
            raise _unknown(sizes, fact.word, mate)
        return sizes.mate_size(mate, "across").value, ""
    said = f"`{getattr(mate, 'text', '')}` is no screw"
    raise sizes.refuse("unknown-screw", said, fact.span, ("a screw is written M4",))


def _unknown(sizes: Sizes, word: str, mate: Name) -> Unclear:
    near = nearest(mate.text, [*sizes.names.declared, *sizes.names.unread])
    advice = f"name a thing, a size or a screw:  {word} shaft   or   {word} 6.0   or   {word} M4"
    if near:
        advice = "did you mean " + " or ".join(f"`{one}`" for one in near) + "?"
    return sizes.refuse("unknown-name", f"nothing is named `{mate.text}`", mate.span, (advice,))
