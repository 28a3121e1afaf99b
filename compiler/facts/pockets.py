"""Pockets that are named for a screw (`counterbore M4`, `countersink M4`, `hex M4 nut`), as sizes.

Any word may be a name: where a recipe has a thing or number called M4, `counterbore M4 deep 3` means that
one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..diagnostics.types import Trouble
from ..language.items import Name, Reading, Word
from ..language.shapes import slot_type
from ..quantities import Quantity, Standing, Unit, tables
from ..tree.types import Fact
from .types import Claim, Content, Measure

if TYPE_CHECKING:
    from ..quantities.tables.pockets import Pocket
    from .sizes import Sizes

MOUTHS = ("counterbore", "countersink")


def by_number(sizes: Sizes, fact: Fact) -> Fact:
    """The fact itself, or, where its screw is a name of the recipe's own, with that for its number; raises
    Unclear.
    """
    named = fact.get("screw")
    if fact.word not in MOUTHS or not isinstance(named, Word) or fact.get("which") is not None:
        return fact
    name = Name(named.text, named.span)
    if not sizes.is_known(name):
        return fact
    if fact.word == "counterbore" and fact.get("depth") is None:
        raise sizes.refuse(
            "fact-missing",
            f"`{named.text}` is a name of this recipe, so its counterbore needs a depth",
            fact.span,
            (f"counterbore {named.text} deep 4.0",),
        )
    values = tuple(
        ("number", Reading(name)) if key == "screw" else (key, value) for key, value in fact.values
    )
    slots = {**fact.slots, "number": slot_type("LENGTH")}
    return Fact(fact.word, values, fact.items, fact.lead, fact.many, fact.span, slots)


def of_screw(sizes: Sizes, fact: Fact) -> list[tuple[str, Content]]:
    """What a pocket named for a screw adds to its claim: its size, its depth unless that is said, and whose
    it is; raises Unclear."""
    if fact.get("screw") is None or fact.word not in (*MOUTHS, "hex"):
        return []
    found = _pocket(sizes, fact)
    added: list[tuple[str, Content]] = [("screw", found.screw), ("standard", found.standard)]
    if fact.word == "hex":
        return [*added, ("size", Measure(None, _wanted(found.across)))]
    added.append(("number", _wanted(found.across)))
    if fact.word == "counterbore" and fact.get("depth") is None:
        added.append(("depth", _wanted(found.depth)))
    return added


def nut_size(sizes: Sizes, fact: Fact) -> Measure:
    """The size across flats of a hole for a nut, which is never read; raises Unclear."""
    return Measure(None, _wanted(_pocket(sizes, fact).across))


def _wanted(size: float) -> Quantity:
    return Quantity(size, 0.0, Standing.WANTED, Unit.LENGTH)


def _pocket(sizes: Sizes, fact: Fact) -> Pocket:
    named = fact.get("screw")
    assert isinstance(named, Word)
    try:
        return tables.pocket(
            fact.word, named.text, "nut" if fact.word == "hex" else getattr(fact.get("which"), "text", "")
        )
    except Trouble as trouble:
        raise sizes.refuse(trouble.code, trouble.says, named.span, trouble.advice) from None


def pocket_name(claim: Claim) -> str:
    """What a pocket is called that is named for a screw (`counterbore M4 nut`); '' for one that was given its
    sizes.
    """
    named = claim.word_of("screw")
    return " ".join(one for one in (claim.word, named, claim.word_of("which")) if one) if named else ""
