"""What every kind needs to be built from its facts: sizes, places, flats, stops of outlines.

A `Builder` knows the claims and where everything was placed.  It raises Trouble with plain reasons;
`building.build_model` turns them into messages."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Any

from ..diagnostics.types import Trouble
from ..facts import Claim, Claims, Entry, Measure, Ref
from ..facts.extents import half, is_box, radius, thickness
from ..facts.kind_questions import is_body, is_slot
from ..facts.needs import FIT_WORDS
from ..places.layout import Layout
from ..places.planes import Planes
from ..quantities import Quantity, Standing
from ..quantities.vectors import XY
from .card import mention
from .taking import Facts
from .types import (
    Bevels,
    FlatOf,
    Mention,
    Number,
    PlacedAt,
    PlacedBy,
    ReadDistance,
    Rest,
    Said,
    Size,
    Slope,
    Spring,
    Trim,
)


def said_of(claim: Claim) -> Said:
    """Where a fact stands."""
    of = tuple(str(value) for _, value in claim.values if isinstance(value, Ref))
    return Said(claim.word, claim.text, claim.span, of, claim.bare)


def size_of(claim: Claim, key: str = "size") -> Size:
    """The size, or plain number, in a slot of a fact."""
    return _size(claim.get(key), said_of(claim))


def optional_size(claim: Claim | None, key: str = "size") -> Size | None:
    """The size in a slot where both are there."""
    return None if claim is None or claim.get(key) is None else size_of(claim, key)


def _size(value: object, said: Said) -> Size:
    if isinstance(value, Measure):
        return Size(value.read, value.made, said)
    assert isinstance(value, Quantity), said.text
    return Size(value if value.standing is Standing.READ else None, value, said)


class Builder:
    """The claims and places of one recipe, and the verbs by which kinds make their things of them."""

    def __init__(self, claims: Claims, layout: Layout) -> None:
        self.claims, self.layout = claims, layout
        self.planes = Planes(claims, layout)
        self.bodies = [entry.name for entry in claims.entries.values() if is_body(entry)]
        self._facts: dict[str, Facts] = {}

    def facts(self, name: str) -> Facts:
        """The facts of a statement, of which each is to be taken."""
        if name not in self._facts:
            self._facts[name] = Facts(self.claims.entries[name])
        return self._facts[name]

    def entry(self, name: str) -> Entry:
        """A statement by its name."""
        return self.claims.entries[name]

    @cached_property
    def mentioned(self) -> frozenset[str]:
        """Everything that some statement's facts speak of: `hub`, `leaf.front`."""
        values = (
            value for e in self.claims.entries.values() for claim in e.claims for _, value in claim.values
        )
        each = (ref for value in values for ref in (value if isinstance(value, tuple) else (value,)))
        return frozenset(f"{ref.name}.{ref.part}" for ref in each if isinstance(ref, Ref))

    # -- what all things have -------------------------------------------------------------------

    def thing(self, facts: Facts) -> dict[str, Any]:
        """The fields of a `Thing`."""
        entry = facts.entry
        spot = self.layout.spots.get(entry.name)
        around = entry.one("around")
        return {
            "name": entry.name,
            "noun": entry.kind,
            "span": entry.span,
            "said": tuple(said_of(claim) for claim in entry.claims),
            "numbers": tuple(_numbers(entry, self.layout.residuals)),
            "edges_read": _edges_read(entry) if spot is not None else (0.0, 0.0, 0.0),
            "plane": spot.plane if spot is not None else "",
            "spot": spot,
            "copies": self.layout.copies.get(entry.name, ()),
            "around": str(around.ref("thing")) if around is not None else "",
            "distances": tuple(_distance(claim) for claim in entry.all("from") if _is_distance(claim)),
            "offset": _offset(entry.one("at")),
            "stands_on": tuple(
                mention(claim.ref("thing"))
                for claim in entry.all("on")
                if self.planes.is_flat(claim.ref("thing"))
            ),
            "placed_by": tuple(
                PlacedBy(fact, self.layout.residuals.get((entry.name, fact.claim.text), ()))
                for fact in self.layout.facts.of[entry.name].facts
            ),
            "rests": tuple(rest_of(claim) for claim in entry.claims if claim.word in _PLACES | _SIZES),
        }

    def body(self, facts: Facts) -> dict[str, Any]:
        """The fields of a `Body`.  Raises Trouble('not-placed')."""
        name = facts.name
        plane, base, out = self.planes.stand(name)
        frame = self.layout.frames.get(plane)
        if frame is None:
            raise Trouble("not-placed", f"`{name}` stands on something that is not placed", (name,))
        low, high = self.planes.heights(name)
        fields = self.thing(facts)
        fields |= {"plane": plane, "frame": frame, "low": low, "high": high, "base": base, "out": out}
        fields["trims"] = tuple(
            Trim(flat, said_of(claim))
            for claim in facts.all("trim")
            if (flat := self.flat(claim.ref("thing"))) is not None
        )
        return fields

    def prism(self, facts: Facts) -> dict[str, Any]:
        """The fields of a `Prism`."""
        return {
            **self.body(facts),
            "bevels": _bevels(facts.all("bevel")),
            "slope": self.slope(facts),
            "spring": _spring(facts),
        }

    def slope(self, facts: Facts) -> Slope | None:
        """The sloping flat of a body that tapers.  Raises Trouble('not-placed') where what it was read at is
        not placed.
        """
        part = self.planes.tapered_flat(facts.name)
        if part is None:
            return None
        claim, plane = facts.need("taper"), self.planes.frame(f"{facts.name}.{part}")
        if plane is None:
            raise Trouble("not-placed", f"where `{facts.name}` was measured is not placed", (facts.name,))
        here, there = (_told_place(claim, key) for key in ("here", "there"))
        return Slope(
            part,
            plane,
            size_of(claim, "first"),
            here,
            size_of(claim, "second"),
            there,
            said_of(claim),
            f"{facts.name}.{part}" in self.mentioned,
            (told_at(claim, "here", facts.name), told_at(claim, "there", facts.name)),
            *self.planes.stand(facts.name),
        )

    # -- flats and places -----------------------------------------------------------------------

    def flat(self, ref: Ref) -> FlatOf | None:
        """A flat, side or plane in space; None while it is not placed."""
        flat = self.planes.flat(ref)
        return None if flat is None else FlatOf(str(ref), ref.name, ref.part, flat)

    def spot_of(self, ref: Ref, plane: str) -> XY:
        """Where a thing lies on a plane; a copy where its copy lies.

        Raises Trouble: 'not-placed', 'unknown-part' for a copy there is not, 'other-plane'."""
        spot = self.layout.spots.get(ref.name)
        if spot is None:
            raise Trouble("not-placed", f"`{ref}` is not placed", (ref.name,))
        if ref.part.isdigit() and int(ref.part) > 1:
            moves = self.layout.copies.get(ref.name, ())
            if int(ref.part) > len(moves) + 1:
                raise Trouble("unknown-part", f"there is no `{ref}`: the copies are .1 to .{len(moves) + 1}")
            point = moves[int(ref.part) - 2].point(self.layout.frames[spot.plane].point(spot.at))
            return self.layout.frames[plane].onto(point)[0]
        if spot.plane != plane:
            raise Trouble(
                "other-plane",
                f"`{ref}` lies on {spot.plane}, but this is drawn on {plane}",
                (ref.name,),
                advice=(f"give `{ref}` the line: on {plane}",),
            )
        return spot.at

    def radius_of(self, name: str) -> float:
        """Half the size across of a round thing as made, 0 for what has none."""
        return radius(self.entry(name), made=True) or 0.0


_TRIMMINGS = frozenset(
    {"bevel", "round", "round inside", "round outside", "hollow", "fillet", "counterbore", "countersink"}
    | {"serrated", "splines", "diamond", "ramp"}
)
"""Facts that neither the place nor the size of a thing rests on."""
_FITTED = frozenset({"across", "drill", "hex", "square", "wide"})
_SIZES = frozenset({"across", "drill", "flat", "flats", "hex", "long", "square", "wide", *FIT_WORDS})
_PLACES = frozenset(
    {"angle", "around", "at", "flush with", "from", "level with", "midway", "on", "parallel to"}
    | {"plumb with", "raised", "square to", "through", "touches"}
)


def _numbers(entry: Entry, residuals: Mapping[tuple[str, str], tuple[float, ...]]) -> list[Number]:
    found = []
    fits = entry.kind != "turning" and entry.has(*FIT_WORDS[:-1])
    for claim in entry.claims:
        said, fitted, trims = said_of(claim), fits and claim.word in _FITTED, claim.word in _TRIMMINGS
        last = claim.values[-1][0] if claim.values else ""
        may = claim.word != "drill"
        for key, value in claim.values:
            if isinstance(value, Measure | Quantity):
                taken = tuple(each for each in claim.taken if each.key in ("", _slot(claim, key)))
                is_size = isinstance(value, Measure)
                left = residuals.get((entry.name, claim.text), (0.0,))[0] if is_size else 0.0
                size = _size(value, said)
                found.append(Number(key, size, taken, is_size, fitted, trims, key == last, may, left))
    return found


def _edges_read(entry: Entry) -> tuple[float, float, float]:
    """Radius, and half-sizes along and across, to which readings of the edges of a thing were taken."""
    long, wide = half(entry, made=False)
    if is_box(entry):
        return 0.0, long, wide
    size = radius(entry, made=False) or radius(entry, made=True) or 0.0
    return size, max(0.0, long - size) if is_slot(entry) else 0.0, 0.0


def _slot(claim: Claim, key: str) -> str:
    """The slot that a size was read in: a drill's is the drill that goes."""
    return "goes" if claim.word == "drill" and key == "size" else key


def rest_of(claim: Claim) -> Rest:
    """A fact as something that a place or size rests on."""
    numbers = [value.made if isinstance(value, Measure) else value for _, value in claim.values]
    about = any(isinstance(each, Quantity) and each.standing is Standing.ABOUT for each in numbers)
    names = tuple(value.name for _, value in claim.values if isinstance(value, Ref))
    return Rest(said_of(claim), names, claim.word in _SIZES, claim.word in FIT_WORDS, about)


def _is_distance(claim: Claim) -> bool:
    return isinstance(claim.get("thing"), Ref) and isinstance(claim.get("readings"), Quantity)


_EDGES = {"near": -1, "far": 1}


def _distance(claim: Claim) -> ReadDistance:
    ref, edges = claim.ref("thing"), claim.word_of("edges")
    sides = tuple(_EDGES.get(word, 0) for word in edges.split("-")) if edges else ()
    reading = claim.quantity("readings")
    return ReadDistance(str(ref), ref.name, ref.part, edges, reading, said_of(claim), sides)


def _offset(claim: Claim | None) -> PlacedAt | None:
    if claim is None:
        return None
    other = claim.get("other")
    name, part = (other.name, other.part) if isinstance(other, Ref) else (None, "")
    return PlacedAt(claim.quantity("x"), claim.quantity("y"), name, part, said_of(claim))


def told_at(claim: Claim, key: str, own: str) -> Mention:
    """The thing or side that a height was read at; a bare side is one of the body `own`."""
    value = claim.get(key)
    return mention(value if isinstance(value, Ref) else Ref(own, str(value), claim.span))


def _told_place(claim: Claim, key: str) -> str:
    """The thing or side that a height was read at."""
    return str(claim.get(key))


def _bevels(claims: tuple[Claim, ...]) -> Bevels:
    depth = {"front": 0.0, "back": 0.0}
    found = []
    for claim in claims:
        where = claim.word_of("where", "both")
        found.append((where, size_of(claim, "number")))
        for face in ("front", "back") if where == "both" else (where,):
            depth[face] = max(depth[face], claim.number("number"))
    return Bevels(depth["front"], depth["back"], tuple(found))


def _spring(facts: Facts) -> Spring | None:
    claim = facts.one("springs")
    if claim is None:
        return None
    thick = optional_size(claim, "thick")
    made = _stuff(facts.entry) if thick is None else thick.value
    return Spring(size_of(claim, "by"), size_of(claim, "free"), thick, made, said_of(claim))


def _stuff(entry: Entry) -> float | None:
    """How thick (mm) the stuff of a plate, strip or block is."""
    if entry.kind == "strip" and (claim := entry.one("thick")) is not None:
        return claim.number("size")
    return thickness(entry)
