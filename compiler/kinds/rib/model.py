"""A rib as it will be made: a wall along things, or a gusset in the corner of two flats."""

from __future__ import annotations

import math
from typing import ClassVar

from msgspec import Struct

from ...diagnostics.types import Trouble
from ...facts import Claim, Ref
from ...model.builder import Builder, optional_size, said_of, size_of
from ...model.corners import CornerFill, corner_of
from ...model.taking import Facts
from ...model.types import Body, FlatOf, Said, Size
from ...quantities.vectors import XY, Vector, dot

SAME = 0.05  # mm: two readings of one length by callipers


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
    """Where a gusset stands along its corner: its near face this far (mm, with its standard uncertainty)
    inwards of a flat across it."""

    flat: FlatOf
    gap: float
    said: Said
    u: float = 0.0


class Gusset(CornerFill, frozen=True, kw_only=True):
    """A rib in the corner between two flats: how far it reaches along each, where it stands along the corner
    (`beside` a flat, in the `middle` of two, else where both bodies are there)."""

    reach: tuple[Size, Size]
    thick: Size
    beside: BesideFlat | None
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
    reach = _reaches(facts, refs)
    thick = size_of(facts.need("thick"))
    beside = [_beside(builder, facts, claim, thick.value) for claim in facts.all("flush with", "from")]
    midway = facts.one("midway")
    middle = [builder.flat(midway.ref(key)) for key in ("first", "second")] if midway is not None else []
    flats = tuple(flat for flat in middle if flat is not None)
    _one_place(facts.name, corner.way, thick.value, beside, None if midway is None else (flats, midway))
    return Gusset(
        **fields,
        corner=corner,
        reach=reach,
        thick=thick,
        beside=beside[0] if beside else None,
        middle=flats,
        middle_said=None if midway is None else said_of(midway),
    )


def _beside(builder: Builder, facts: Facts, claim: Claim, thick: float) -> BesideFlat:
    ref = claim.ref("thing")
    flat = builder.flat(ref) if ref.part else None
    if flat is None:
        raise Trouble("not-square", f"`{ref}` does not stand across rib `{facts.name}`", (facts.name,))
    gap = claim.number("readings") if claim.word == "from" else 0.0
    gap -= {"far": thick, "centre": 0.5 * thick}.get(claim.word_of("edges"), 0.0)
    u = claim.quantity("readings").u if claim.word == "from" else 0.0
    return BesideFlat(flat, gap, said_of(claim), u)


def _one_place(
    name: str,
    way: Vector,
    thick: float,
    beside: list[BesideFlat],
    midway: tuple[tuple[FlatOf, ...], Claim] | None,
) -> None:
    """Raise Trouble('facts-disagree') where two facts put a gusset at two places along its corner, and
    'not-square' for one that is read from a flat which does not stand across it."""
    told = []
    for one in beside:
        share = dot(one.flat.flat.normal, way)
        if abs(abs(share) - 1.0) > 1e-6:
            raise Trouble("not-square", f"`{one.flat.name}` does not stand across rib `{name}`", (name,))
        inwards = -1.0 if share > 0 else 1.0
        told.append((dot(way, one.flat.flat.point) + inwards * (one.gap + 0.5 * thick), one.u, one.said))
    if midway is not None:
        flats, claim = midway
        middle = sum(dot(way, flat.flat.point) for flat in flats) / max(1, len(flats))
        told.append((middle, 0.0, said_of(claim)))
    for at, u, said in told[1:]:
        first = told[0]
        if abs(at - first[0]) > max(SAME, math.sqrt(3) * math.hypot(u, first[1])):
            raise Trouble(
                "facts-disagree",
                f"`{said.text}` puts rib `{name}` {abs(at - first[0]):.4g} away from where "
                f"`{first[2].text}` does",
                (name,),
                advice=("one of the two was misread: check both, or leave one of them out",),
                span=said.span,
            )


def _reaches(facts: Facts, refs: tuple[Ref, Ref]) -> tuple[Size, Size]:
    """How far the gusset reaches along each flat.  Raises Trouble: 'fact-missing', 'facts-disagree'."""
    sizes = []
    for ref in refs:
        told = sorted(
            (claim for claim in facts.entry.all("reach") if str(claim.ref("thing")) == str(ref)),
            key=lambda each: each.span.line,
        )
        if not told:
            raise Trouble(
                "fact-missing",
                f"rib `{facts.name}` does not say how far it reaches along `{ref}`",
                (facts.name,),
                advice=(f"add a line: reach 20.0 along {ref}",),
            )
        first, *more = (size_of(facts.take(claim), "number") for claim in told)
        for again in more:
            _agree(facts.name, first, again)
        sizes.append(first)
    return sizes[0], sizes[1]


def _agree(name: str, first: Size, again: Size) -> None:
    """Raise Trouble('facts-disagree') where a rib is said to reach along one flat in two ways."""
    give = max(SAME, math.sqrt(3) * math.hypot(first.made.u, again.made.u))
    if abs(first.value - again.value) > give:
        raise Trouble(
            "facts-disagree",
            f"rib `{name}` reaches {first.value:g} along `{first.said.of[0]}`, "
            f"but `{again.said.text}` says {again.value:g}",
            (name,),
            advice=("a rib reaches once along each of its two flats: keep the line that holds",),
            span=again.said.span,
        )


__all__ = ["Gusset", "Wall", "make"]
