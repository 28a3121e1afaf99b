"""A rib as it will be made: a wall along things, or a gusset in the corner of two flats."""

from __future__ import annotations

from typing import ClassVar

from msgspec import Struct

from ...diagnostics.types import Trouble
from ...facts import Claim, Ref
from ...model.builder import Builder, optional_size, said_of, size_of
from ...model.corners import CornerFill, corner_of
from ...model.taking import Facts
from ...model.types import Body, FlatOf, Said, Size
from ...quantities.vectors import XY


class Wall(Body, frozen=True, kw_only=True):
    """A rib along a row of places on its plane."""

    places: tuple[XY, ...]
    thick: Size
    tall: Size

    makes: ClassVar[bool] = True

    @property
    def stood_on(self) -> bool:
        """A rib has no flat to stand on."""
        return False


class BesideFlat(Struct, frozen=True):
    """Where a gusset stands along its corner: its near face this far (mm) inwards of a flat across it."""

    flat: FlatOf
    gap: float
    said: Said


class Gusset(CornerFill, frozen=True, kw_only=True):
    """A rib in the corner between two flats: how far it reaches along each, where it stands along the corner
    (`beside` a flat, in the `middle` of two, else where both bodies are there)."""

    reach: tuple[Size, Size]
    thick: Size
    beside: tuple[BesideFlat, ...]
    middle: tuple[FlatOf, ...]
    middle_said: Said | None

    makes: ClassVar[bool] = True


def make(builder: Builder, facts: Facts) -> Wall | Gusset:
    """The rib.  Raises Trouble: 'not-placed', 'fact-missing', 'outline-too-short', 'flat-corner',
    'wrong-kind'.
    """
    path = facts.one("along")
    return _wall(builder, facts, path) if path is not None else _gusset(builder, facts)


def _wall(builder: Builder, facts: Facts, path: Claim) -> Wall:
    fields = builder.body(facts)
    places = tuple(builder.spot_of(ref, fields["plane"]) for ref in path.refs("things"))
    if len(places) < 2:
        raise Trouble(
            "outline-too-short", f"rib `{facts.name}` needs two things to run between", (facts.name,)
        )
    tall = optional_size(facts.one("high"))
    if tall is None:
        raise Trouble(
            "fact-missing",
            f"{facts.entry.kind} `{facts.name}` does not say how `high`",
            (facts.name,),
            advice=("add a line such as: high 3.0",),
        )
    return Wall(**fields, places=places, thick=size_of(facts.need("thick")), tall=tall)


def _gusset(builder: Builder, facts: Facts) -> Gusset:
    fields = builder.body(facts)
    corner, refs = corner_of(builder, facts)
    thick = size_of(facts.need("thick"))
    beside = [
        _beside(builder, facts, claim, thick.value)
        for claim in sorted(facts.all("flush with", "from"), key=lambda each: each.text)
    ]
    midway = facts.one("midway")
    middle = [builder.flat(midway.ref(key)) for key in ("first", "second")] if midway is not None else []
    return Gusset(
        **fields,
        corner=corner,
        reach=_reaches(facts, refs),
        thick=thick,
        beside=tuple(beside),
        middle=tuple(flat for flat in middle if flat is not None),
        middle_said=None if midway is None else said_of(midway),
    )


def _beside(builder: Builder, facts: Facts, claim: Claim, thick: float) -> BesideFlat:
    ref = claim.ref("thing")
    flat = builder.flat(ref) if ref.part else None
    if flat is None:
        raise Trouble("not-square", f"`{ref}` does not stand across rib `{facts.name}`", (facts.name,))
    gap = claim.number("readings") if claim.word == "from" else 0.0
    gap -= {"far": thick, "centre": 0.5 * thick}.get(claim.word_of("edges"), 0.0)
    return BesideFlat(flat, gap, said_of(claim))


def _reaches(facts: Facts, refs: tuple[Ref, Ref]) -> tuple[Size, Size]:
    found = {str(claim.ref("thing")): claim for claim in facts.entry.all("reach")}
    sizes = []
    for ref in refs:
        if str(ref) not in found:
            raise Trouble(
                "fact-missing",
                f"rib `{facts.name}` does not say how far it reaches along `{ref}`",
                (facts.name,),
                advice=(f"add a line: reach 20.0 along {ref}",),
            )
        facts.take(found[str(ref)])
        sizes.append(size_of(found[str(ref)], "number"))
    return sizes[0], sizes[1]


__all__ = ["BesideFlat", "Gusset", "Wall", "make"]
