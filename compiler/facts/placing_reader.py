"""The placing claims of a recipe made into typed facts (see `placing`): their words are read here only."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from msgspec import Struct

from .kind_questions import is_line, is_plane, is_spanning, is_turned
from .needs import PATTERNS
from .placing import (
    About,
    Against,
    AngleAt,
    AngleFrom,
    Around,
    At,
    Beside,
    BetweenEnds,
    Beyond,
    Count,
    Faces,
    FlushWith,
    From,
    FromNext,
    Laid,
    LaidAt,
    LaidBeside,
    LaidLine,
    Leans,
    LevelLine,
    LevelWith,
    LiesAlong,
    LineAngled,
    MidwayBetween,
    Of,
    Offset,
    On,
    Over,
    OverAngle,
    OverRow,
    ParallelTo,
    Pitch,
    PitchDiameter,
    PlaceFact,
    PlacingFact,
    PlumbWith,
    Raised,
    Reaches,
    RoughPlace,
    RunsAlong,
    RunsLevel,
    RunsSquareTo,
    RunsUpright,
    SameSide,
    ShortOf,
    Spans,
    SquareAt,
    SquareTo,
    StandsOn,
    Taper,
    Through,
    Touches,
    TurnedBy,
    UprightLine,
    Within,
)
from .types import Claim, Claims, Entry, LaidAs, Pass, Ref

Reader = Callable[[Claim], PlacingFact]
RIGHT_ANGLE = 90.0
ANY = TypeVar("ANY", bound=PlacingFact)


class Placing(Struct, frozen=True, eq=False):
    """The placing facts of one statement, in the order of their text."""

    entry: Entry
    facts: tuple[PlacingFact, ...]

    @property
    def name(self) -> str:
        """The statement's name."""
        return self.entry.name

    def one(self, kind: type[ANY]) -> ANY | None:
        """The first fact of a type, None when there is none."""
        return next((fact for fact in self.facts if isinstance(fact, kind)), None)

    def all(self, kind: type[ANY]) -> tuple[ANY, ...]:
        """Every fact of a type."""
        return tuple(fact for fact in self.facts if isinstance(fact, kind))

    @property
    def leans_on(self) -> tuple[Ref, ...]:
        """The things that a thing's or line's place is read from."""
        kind = PlacingFact if is_line(self.entry) else PlaceFact
        return tuple(ref for fact in self.all(kind) for ref in fact.refs)


class PlacingFacts(Struct, frozen=True, eq=False):
    """The placing facts of a recipe: of every statement by name, and how the part lay."""

    of: dict[str, Placing]
    laid: Laid | None = None


def placing_facts(claims: Claims) -> PlacingFacts:
    """The placing facts of every statement of a recipe, and how the part lay."""
    laid = claims.recipe.one("laid") if claims.recipe is not None else None
    of = {name: Placing(entry, tuple(_facts(entry))) for name, entry in claims.entries.items()}
    return PlacingFacts(of, None if laid is None else _laid(laid))


def spoken_of(entry: Entry) -> list[Ref]:
    """Every thing, flat and side that the claims of a statement speak of."""
    found: list[Ref] = []
    for claim in entry.claims:
        for _, value in claim.values:
            for one in value if isinstance(value, tuple) else (value,):
                ref = one.thing if isinstance(one, Pass) else one
                if isinstance(ref, Ref):
                    found.append(ref)
    return found


def _facts(entry: Entry) -> list[PlacingFact]:
    readers = _readers(entry)
    found = [readers[claim.word](claim) for claim in entry.claims if claim.word in readers]
    if entry.kind in ("block", "plate"):
        found.extend(_taper(entry, claim) for claim in entry.all("taper"))
    return found


def _readers(entry: Entry) -> Mapping[str, Reader]:
    if is_line(entry):
        return _LINE
    if is_plane(entry):
        return _PLANE
    if entry.kind in PATTERNS:
        return _PATTERN[entry.kind]
    if is_turned(entry):
        return _TURNED if entry.kind != "mark" else _MARK
    return _SPANNING if is_spanning(entry) else _THING


def _other(claim: Claim, key: str) -> Ref | None:
    value = claim.get(key)
    return value if isinstance(value, Ref) else None


def _at(claim: Claim) -> PlacingFact:
    return At(claim, _other(claim, "other"), claim.quantity("x"), claim.quantity("y"))


def _angle(claim: Claim) -> PlacingFact:
    vertex, angle = _other(claim, "vertex"), claim.quantity("angle")
    if vertex is None:
        return AngleFrom(claim, claim.ref("other"), angle)
    return AngleAt(claim, vertex, claim.ref("other"), angle)


def _from(claim: Claim) -> PlacingFact:
    return From(claim, claim.ref("thing"), claim.word_of("edges"), claim.quantity("readings"))


def _on(claim: Claim) -> PlacingFact:
    return On(claim, claim.ref("thing"))


def _flush(claim: Claim) -> PlacingFact:
    return FlushWith(claim, claim.ref("thing"))


def _midway(claim: Claim) -> PlacingFact:
    return MidwayBetween(claim, claim.ref("first"), claim.ref("second"))


def _beside(claim: Claim) -> PlacingFact:
    return Beside(claim, claim.ref("thing"), claim.word.split()[0])


def _taper(entry: Entry, claim: Claim) -> PlacingFact:
    here, there = (
        value if isinstance(value, Ref) else Ref(entry.name, str(value), claim.span)
        for value in (claim.get("here"), claim.get("there"))
    )
    return Taper(claim, claim.number("first"), here, claim.number("second"), there)


def _stands(claim: Claim) -> PlacingFact:
    angle = RIGHT_ANGLE if claim.get("angle") is None else claim.number("angle")
    return StandsOn(claim, claim.ref("thing"), angle)


def _leans(claim: Claim) -> PlacingFact:
    first, second = claim.number("first"), claim.number("second")
    return Leans(claim, first, claim.ref("here"), second, claim.ref("there"), claim.ref("thing"))


def _laid(claim: Claim) -> Laid:
    phrases = claim.get("phrases")
    known = [one for one in phrases if isinstance(one, LaidAs)] if isinstance(phrases, tuple) else []
    return Laid(claim, tuple(filter(None, map(_phrase, known))))


def _phrase(one: LaidAs) -> LaidAt | LaidBeside | LaidLine | None:
    if one.other is not None:
        return LaidBeside(one.thing, one.other, one.wording.split()[0])
    if one.wording == "at the":
        return LaidAt(one.thing, one.where)
    return LaidLine(one.thing, one.wording == "upright") if one.wording in ("level", "upright") else None


_BESIDE: dict[str, Reader] = {word: _beside for word in ("left of", "right of", "above", "below")}

_LINE: dict[str, Reader] = {
    "on": _on,
    "from": _from,
    "midway": _midway,
    "flush with": _flush,
    "through": lambda claim: Through(claim, claim.ref("first"), _other(claim, "second")),
    "touches": lambda claim: Touches(claim, claim.ref("first"), claim.ref("second")),
    "parallel to": lambda claim: ParallelTo(claim, claim.ref("thing")),
    "square to": lambda claim: SquareTo(claim, claim.ref("thing")),
    "level": LevelLine,
    "upright": UprightLine,
    "angle": lambda claim: LineAngled(claim, claim.number("angle"), _other(claim, "other")),
    **_BESIDE,
}

_PLANE: dict[str, Reader] = {
    "stands on": _stands,
    "faces": lambda claim: Faces(claim, claim.word_of("where")),
    "raised": lambda claim: Offset(claim, claim.ref("thing"), claim.number("number")),
    "dropped": lambda claim: Offset(claim, claim.ref("thing"), -claim.number("number")),
    "leans": _leans,
    "square to": lambda claim: SquareAt(claim, claim.ref("line"), claim.ref("point")),
}

_THING: dict[str, Reader] = {
    "on": _on,
    "from": _from,
    "over": lambda claim: Over(claim, claim.ref("thing"), claim.quantity("readings")),
    "at": _at,
    "around": lambda claim: Around(claim, claim.ref("thing")),
    "midway": _midway,
    "flush with": _flush,
    "against": lambda claim: Against(claim, claim.ref("thing")),
    "level with": lambda claim: LevelWith(claim, claim.ref("thing")),
    "plumb with": lambda claim: PlumbWith(claim, claim.ref("thing")),
    **_BESIDE,
    "beyond": lambda claim: Beyond(claim, claim.ref("other"), claim.ref("base")),
    "short of": lambda claim: ShortOf(claim, claim.ref("other"), claim.ref("base")),
    "same side of": lambda claim: SameSide(claim, claim.ref("other"), claim.ref("base")),
    "angle": _angle,
    "roughly": lambda claim: RoughPlace(claim, claim.number("x"), claim.number("y")),
    "lies along": lambda claim: LiesAlong(claim, claim.ref("line"), claim.ref("start")),
    "within": lambda claim: Within(claim, claim.ref("other"), claim.number("x"), claim.number("y")),
    "raised": lambda claim: Raised(claim, claim.number("number")),
    "reaches": lambda claim: Reaches(claim, claim.ref("thing"), claim.number("size")),
}

_TURNED: dict[str, Reader] = {
    **_THING,
    "ends": lambda claim: BetweenEnds(claim, claim.ref("first"), claim.ref("second")),
    "along": lambda claim: RunsAlong(claim, claim.ref("thing")),
    "square to": lambda claim: RunsSquareTo(claim, claim.ref("thing")),
    "level": RunsLevel,
    "upright": RunsUpright,
    "turned": lambda claim: TurnedBy(claim, claim.number("angle")),
}
# what is `raised` of a mark is its relief
_MARK: dict[str, Reader] = {word: reader for word, reader in _TURNED.items() if word != "raised"}

_SPANNING: dict[str, Reader] = {
    **_THING,
    "between": lambda claim: Spans(claim, claim.ref("first"), claim.ref("second")),
}

_OF: dict[str, Reader] = {"of": lambda claim: Of(claim, claim.refs("things"))}
_ABOUT: dict[str, Reader] = {"about": lambda claim: About(claim, claim.ref("thing"))}
_COUNT: dict[str, Reader] = {"count": lambda claim: Count(claim, int(claim.number("count")), 1)}

_PATTERN: dict[str, dict[str, Reader]] = {
    "row": {
        **_OF,
        **_COUNT,
        "pitch": lambda claim: Pitch(claim, claim.number("number"), 0.0),
        "over": lambda claim: OverRow(claim, claim.quantity("readings")),
        "along": lambda claim: RunsAlong(claim, claim.ref("thing")),
        "level": RunsLevel,
        "upright": RunsUpright,
        "angle": lambda claim: TurnedBy(claim, claim.number("angle")),
    },
    "ring": {
        **_OF,
        **_COUNT,
        **_ABOUT,
        "over": lambda claim: OverAngle(claim, claim.number("angle")),
        "from next": lambda claim: FromNext(claim, claim.quantity("readings"), claim.word_of("edges")),
        "pitch circle": lambda claim: PitchDiameter(claim, claim.quantity("readings")),
    },
    "grid": {
        **_OF,
        "count": lambda claim: Count(claim, int(claim.number("across")), int(claim.number("up"))),
        "pitch": lambda claim: Pitch(claim, claim.number("x"), claim.number("y")),
    },
    "mirror": {**_OF, **_ABOUT},
}
