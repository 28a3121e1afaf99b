"""Does `laid ... side up` say of a thing on the back that it looked at the reader?

The sheet is the part as it lay when it was read: its fronts look up at the reader, its backs lie on the
table.  A blind hole that opens at the back can't have been seen; so either the word `back` is wrong or the
hand of the whole part is."""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Label, Severity, Trouble
from ..facts import Claims, Entry, Ref
from ..facts.types import LaidAs
from ..places.layout import Layout
from ..places.planes import SHEET, Pages


def hidden_sides(claims: Claims, layout: Layout) -> list[Diagnostic]:
    """A warning for each thing that `laid` calls up and that a fact puts on a back."""
    claim = claims.recipe.one("laid") if claims.recipe is not None else None
    phrases = claim.get("phrases") if claim is not None else None
    pages = Pages(claims, layout)
    found: list[Diagnostic] = []
    for one in phrases if isinstance(phrases, tuple) else ():
        if isinstance(one, LaidAs) and one.wording == "up":
            found.extend(_asked(one, claims, pages))
    return found


def _asked(laid: LaidAs, claims: Claims, pages: Pages) -> list[Diagnostic]:
    thing = laid.thing
    entry = claims.entries.get(thing.name)
    if entry is None or not _on_sheet(thing.name, pages):
        return []
    said = f"`laid` says {thing} side up, but the backs of the part lie down"
    label: tuple[Label, ...] = ()
    if thing.part != "back":
        back = _back_of(entry)
        if thing.part or back is None:
            return []
        said = f"`laid` says {thing} side up, but `{thing}` opens at the back, which lies down"
        label = (Label(back.span, "this is the side that lay on the table"),)
        if entry.kind not in ("bore", "slot", "notch"):
            said = f"`laid` says {thing} side up, but `{thing}` stands on the back, which lies down"
    advice = (
        "if it looked at you when you read the part: write `front` for `back`",
        "if it lay on the table: say what looked at you instead; check left and right too",
    )
    return [Diagnostic("laid-contradicts", Severity.WARNING, said, thing.span, others=label, advice=advice)]


def _on_sheet(name: str, pages: Pages) -> bool:
    try:
        return pages.stand(name)[0] == SHEET
    except (Trouble, KeyError):
        return False


def _back_of(entry: Entry) -> Ref | None:
    """The mention of a back that a hole is deep from or a thing stands on; None for what shows on the
    front.
    """
    deep = entry.one("deep")
    from_flat = deep.get("thing") if deep is not None else None
    if isinstance(from_flat, Ref):
        return from_flat if from_flat.part == "back" else None
    if deep is None and entry.kind in ("bore", "slot", "notch"):
        return None
    backs = [claim.ref("thing") for claim in entry.all("on") if claim.ref("thing").part == "back"]
    return backs[0] if backs else None
