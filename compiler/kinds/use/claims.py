"""Bodies that come from other files, as statements: each is placed like a block, by its box.

What a used part's own recipe names can be read to from outside: `hinge.pin` then stands for a point or round
that lies fast in `hinge`, as if it were a statement of its own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from msgspec.structs import replace

from ...diagnostics import nearest
from ...diagnostics.types import Diagnostic, Severity
from ...facts.dependents import without
from ...facts.needs import BROUGHT
from ...facts.types import FLATS, SIDES, Claim, Claims, Entry, LaidAs, Measure, Pass, Ref
from ...imports.types import HeldThing, ImportedPart
from ...quantities import Quantity, Standing, Unit

MOST_LISTED = 12
MOST_MESSAGES = 300
_STAYS = (
    "on",
    "raised",
    "flush with",
    "against",
    "lies on",
    "turned",
    "trim",
    "file",
    "with",
    "datum",
    "long",
    "wide",
    "thick",
)
"""Facts that a used part keeps where its datum is placed for it."""


def with_imports(claims: Claims, parts: Mapping[str, ImportedPart]) -> tuple[Claims, tuple[Diagnostic, ...]]:
    """The claims with the sizes and inner things of all bodies from files, and a message for each thing that
    a used part does not have; a body that is not among `parts`, and what leans on it, is left out.
    """
    bodies = claims.of_kind(*sorted(BROUGHT))
    return _Importing(claims, {one.name: parts[one.name] for one in bodies if one.name in parts}).run(bodies)


class _Importing:
    def __init__(self, claims: Claims, parts: Mapping[str, ImportedPart]) -> None:
        self.claims, self.parts = claims, parts
        self.found: list[Diagnostic] = []
        self.lost: set[str] = set()

    def run(self, bodies: Iterable[Entry]) -> tuple[Claims, tuple[Diagnostic, ...]]:
        self.lost.update(one.name for one in bodies if one.name not in self.parts)
        entries = dict(self.claims.entries)
        for name, part in self.parts.items():
            entries[name] = _boxed(entries[name], part)
        entries = self._inner_things(entries)
        for name in self.lost:
            entries.pop(name, None)
        unread = set(self.claims.unread) | self.lost
        entries = without(dict(sorted(entries.items())), unread)
        recipe = _rewritten(self.claims.recipe, self.parts) if self.claims.recipe is not None else None
        claims = replace(
            self.claims,
            entries=entries,
            unread=frozenset(unread),
            imported=self.parts,
            recipe=recipe,
            spoken_of=self.claims.spoken_of | {name for name in entries if "." in name},
        )
        return claims, tuple(self.found[:MOST_MESSAGES])

    def _inner_things(self, entries: dict[str, Entry]) -> dict[str, Entry]:
        """The entries with a statement for each thing of a used part that is spoken of, and mentions made of
        its name.
        """
        found: dict[str, Entry] = {}
        wanted: dict[str, tuple[Entry, str]] = {}
        recipe = self.claims.recipe
        for name, entry in (*entries.items(), *((("", recipe),) if recipe is not None else ())):
            inner = [ref for ref in _refs(entry) if _is_inner(ref, self.parts)]
            datum = entry.one("datum")
            if datum is not None and name in self.parts:
                inner.append(Ref(name, datum.word_of("word"), datum.span))
            missing = [ref for ref in inner if ref.part not in self.parts[ref.name].held]
            if missing:
                self.found += [self._unknown(ref) for ref in missing]
                self.lost.add(name)
                continue
            wanted.update({str(ref): (entries[ref.name], ref.part) for ref in inner})
            if name:
                found[name] = _rewritten(entry, self.parts)
        for full, (entry, part) in sorted(wanted.items()):
            if entry.name not in found:
                self.lost.add(full)
            else:
                found[full] = _inner(found[entry.name], full, self.parts[entry.name].held[part], entries)
        for name in self.parts:
            datum = found[name].one("datum") if name in found else None
            if datum is not None:
                _held_by(found, name, datum.word_of("word"), entries)
        return found

    def _unknown(self, ref: Ref) -> Diagnostic:
        names = [*sorted(self.parts[ref.name].held), *FLATS, *SIDES]
        near = nearest(ref.part, names)
        advice = (
            "did you mean " + " or ".join(f"`{ref.name}.{one}`" for one in near) + "?"
            if near
            else ("it has: " + " ".join(names[:MOST_LISTED]))
        )
        headline = f"the part used as `{ref.name}` has no `{ref.part}`"
        return Diagnostic("unknown-part", Severity.ERROR, headline, ref.span, advice=(advice,))


def _exact(value: float) -> Quantity:
    return Quantity(value, 0.0, Standing.WANTED, Unit.LENGTH)


def _boxed(entry: Entry, part: ImportedPart) -> Entry:
    """The body with the sizes of its box, said as a block says them."""
    sizes = zip(("long", "wide", "thick"), part.box, strict=True)
    claims = [
        Claim(word, (("size", Measure(_exact(size), _exact(size))),), f"{word} {size:g}", entry.span)
        for word, size in sizes
    ]
    return _with_claims(entry, (*entry.claims, *claims))


def _inner(owner: Entry, name: str, held: HeldThing, entries: Mapping[str, Entry]) -> Entry:
    """A thing of a used part as a statement: a point, or a round of its size, that lies fast in the part."""
    box = {word: owner.one(word) for word in ("long", "wide")}
    x, y = (
        held.at[k] - 0.5 * claim.number("size") for k, claim in enumerate(box.values()) if claim is not None
    )
    of = Ref(owner.name, "", owner.span)
    values = (("x", _exact(x)), ("y", _exact(y)), ("other", of))
    claims = [Claim("within", values, f"within {x:g}, {y:g} of {owner.name}", owner.span)]
    claims += [*owner.all("raised"), *(one for one in owner.all("on") if not _is_line(one, entries))]
    if held.across > 0:
        size = _exact(held.across)
        claims.append(
            Claim("across", (("size", Measure(size, size)),), f"across {held.across:g}", owner.span)
        )
    return Entry(
        "round" if held.across > 0 else "point",
        name,
        tuple(sorted(claims, key=lambda one: one.text)),
        owner.span,
    )


def _held_by(found: dict[str, Entry], name: str, part: str, entries: Mapping[str, Entry]) -> None:
    """Let the datum of a used part stand for it: the facts that place it speak of the datum."""
    owner, datum = found[name], found[f"{name}.{part}"]
    given = [
        one for one in owner.claims if one.word not in _STAYS or (one.word == "on" and _is_line(one, entries))
    ]
    found[name] = _with_claims(owner, [one for one in owner.claims if one not in given])
    found[datum.name] = _with_claims(datum, [*datum.claims, *given])


def _is_line(claim: Claim, entries: Mapping[str, Entry]) -> bool:
    ref = claim.ref("thing")
    return not ref.part and ref.name in entries and entries[ref.name].kind == "line"


def _with_claims(entry: Entry, claims: Iterable[Claim]) -> Entry:
    return Entry(entry.kind, entry.name, tuple(sorted(claims, key=lambda one: one.text)), entry.span)


def _is_inner(ref: Ref, parts: Mapping[str, ImportedPart]) -> bool:
    known = ref.name in parts and bool(ref.part) and not ref.part.isdigit()
    return known and ref.part not in (*FLATS, *SIDES)


def _refs(entry: Entry) -> Iterable[Ref]:
    for claim in entry.claims:
        for _, value in claim.values:
            for one in value if isinstance(value, tuple) else (value,):
                if isinstance(one, Ref):
                    yield one
                elif isinstance(one, Pass | LaidAs):
                    yield one.thing
                    if isinstance(one, LaidAs) and one.other is not None:
                        yield one.other


def _rewritten(entry: Entry, parts: Mapping[str, ImportedPart]) -> Entry:
    """The entry with each mention of a used part's thing made a mention of the statement that stands for
    it.
    """

    def renamed(value: Any) -> Any:
        if isinstance(value, Ref) and _is_inner(value, parts):
            return Ref(str(value), "", value.span)
        if isinstance(value, Pass):
            return Pass(value.how, renamed(value.thing))
        if isinstance(value, LaidAs):
            return LaidAs(value.wording, renamed(value.thing), renamed(value.other), value.where)
        return tuple(map(renamed, value)) if isinstance(value, tuple) else value

    if not any(_is_inner(ref, parts) for ref in _refs(entry)):
        return entry
    claims = [
        Claim(
            one.word,
            tuple((key, renamed(value)) for key, value in one.values),
            one.text,
            one.span,
            one.taken,
            one.bare,
        )
        for one in entry.claims
    ]
    return _with_claims(entry, claims)
