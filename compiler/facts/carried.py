"""The size across that a line asks for which speaks of a thread: by its name, or carried by a neighbour."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..diagnostics import nearest
from ..diagnostics.types import Trouble
from ..language.items import Name
from ..quantities import Standing, tables
from ..tree.types import Fact
from .needs import USUAL_CLEAR
from .readings import size_of
from .sums import Unclear

if TYPE_CHECKING:
    from .sizes import Sizes


def over_thread(sizes: Sizes, fact: Fact) -> float:
    """The size (mm) over the crests of a bolt's thread, over the grooves of a nut's, with what it is to be
    clear; raises Unclear.
    """
    mate = fact.get("mate")
    clear = fact.get("clear")
    size = size_of(clear)
    play = USUAL_CLEAR if size is None else sizes.averaged(size.readings, Standing.WANTED).value
    way = {"thread": 0.0, "screws on": 1.0, "screws into": -1.0}[fact.word]
    if not isinstance(mate, Name):
        raise sizes.refuse(
            "unknown-thread",
            f"`{fact.word}` takes a thread by its name, or a neighbour that carries one",
            fact.span,
            (f"{fact.word} M8   or   {fact.word} neck",),
        )
    if mate.text in sizes.names.declared:
        across = _carried(sizes, mate)
    else:
        across = _metric(sizes, mate, fact.get("series") is not None)
    return across + way * play


def _metric(sizes: Sizes, mate: Name, fine: bool) -> float:
    if not tables.is_thread_name(mate.text) and sizes.is_known(mate):
        raise Unclear
    try:
        return tables.metric_thread(mate.text, fine).across
    except Trouble as trouble:
        near = nearest(mate.text, [*sizes.names.declared, *sizes.names.unread])
        advice = (
            ("did you mean " + " or ".join(f"`{one}`" for one in near) + "?",) if near else trouble.advice
        )
        raise sizes.refuse(trouble.code, trouble.says, mate.span, advice) from None


def _carried(sizes: Sizes, mate: Name) -> float:
    """The size across of a thread that a neighbour carries: read over its crests, or core + 2 deep."""
    statement = sizes.names.declared[mate.text]
    sizes.names.spoken_of.add(mate.text)
    given = {fact.word for fact in statement.facts}
    if statement.kind != "neighbour":
        raise sizes.refuse(
            "wrong-kind",
            f"`{mate.text}` is a {statement.kind}, which carries no thread as read",
            mate.span,
            ("a neighbour carries a thread: pitch, crest, foot, and across or core",),
        )
    if "across" in given:
        return sizes.leaning((mate.text, "across", False), statement, mate.span).value
    if not {"core", "deep"} <= given:
        raise sizes.refuse(
            "fact-missing",
            f"neighbour `{mate.text}` carries a thread but does not say two of `across`, `core` and `deep`",
            mate.span,
            ("add lines such as: across 26.2   and   core 24.0",),
        )
    core, deep = (
        sizes.leaning((mate.text, word, False), statement, mate.span).value for word in ("core", "deep")
    )
    return core + 2.0 * deep
