"""What a recipe brings in from other files: finished parts of other recipes (`use`) and meshes (`blank`).

Each becomes a body with a box, placed like a block.  What a used part's own recipe names can be read to from
outside: `hinge.pin` then stands for a point or round that lies fast in `hinge`, as if it were a statement of
its own.  Nothing else crosses over: the used recipe sees none of our names, and of its own only named numbers
can be set from here."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from msgspec import Struct, field
from msgspec.structs import replace

from .diagnostics import nearest
from .diagnostics.types import Diagnostic, Severity, Span, Trouble
from .facts import Claim, Claims, Entry, Measure, Ref
from .facts.claims_builder import without
from .facts.needs import BROUGHT
from .facts.stock import Held, Stock
from .facts.types import FLATS, SIDES, LaidAs, Pass
from .laying import laid_down, part_stock
from .quantities import Quantity, Standing, Unit
from .result import Result
from .source import Shelf, Source, find_file, read_file
from .tree import parse_rows
from .tree.types import Binary, Bracket, Expression, Name, Negative, Reading, Statement, Tree

MOST_FILES = 8
MOST_PARTS = 200
MOST_BROUGHT = 500
MOST_TRIANGLES = 2_000_000
MOST_BYTES = 1_000_000  # of a recipe that is used: no pattern is longer
MOST_TOLD = 3
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
_QUIET = frozenset(
    {"caution", "unused-name", "about-placed"}
)  # of a used recipe's messages: said of the whole, or of none

Run = Callable[[Source, tuple[Diagnostic, ...], "Brought", Mapping[str, Quantity]], Result]


class Brought(Struct):
    """What one run of the compiler has brought in so far, so that nothing is made twice; and how finely it
    works.
    """

    shelf: Shelf
    chord: float
    read: dict[Path, tuple[Source, tuple[Diagnostic, ...], Tree]] = field(default_factory=dict)
    made: dict[tuple[object, ...], Result] = field(default_factory=dict)
    blanks: dict[tuple[object, ...], Stock] = field(default_factory=dict)
    flipped: bool = False

    def beside(self, file: Path, flipped: bool) -> Brought:
        """The same store for a recipe that is used by the one at work."""
        return Brought(self.shelf.beside(file), self.chord, self.read, self.made, self.blanks, flipped)


class _Bringing:
    def __init__(self, claims: Claims, store: Brought, run: Run) -> None:
        self.claims, self.store, self.run = claims, store, run
        self.found: list[Diagnostic] = []
        self.stock: dict[str, Stock] = {}
        self.triangles = 0

    def claims_with_stock(self) -> Claims:
        """The claims with the sizes and inner things of all that was brought in; what could not be had is
        left out.
        """
        entries = dict(self.claims.entries)
        lost: set[str] = set()
        some = self.claims.of_kind(*sorted(BROUGHT))
        if len(some) > MOST_BROUGHT:
            self._say(
                "bad-count",
                f"the recipe brings in {len(some)} bodies from files; {MOST_BROUGHT} are the most",
                some[0].span,
                ("a row, ring or grid makes copies of one",),
            )
        for entry in some:
            if len(some) > MOST_BROUGHT or not self._have(entry):
                lost.add(entry.name)
        for name, stock in self.stock.items():
            entries[name] = _boxed(entries[name], stock)
        entries = self._inner_things(entries, lost)
        for name in lost:
            entries.pop(name, None)
        unread = set(self.claims.unread) | lost
        entries = without(dict(sorted(entries.items())), unread)
        recipe = _rewritten(self.claims.recipe, self.stock) if self.claims.recipe is not None else None
        spoken = self.claims.spoken_of | {name for name in entries if "." in name}
        return replace(
            self.claims,
            entries=entries,
            unread=frozenset(unread),
            stock=self.stock,
            recipe=recipe,
            spoken_of=spoken,
        )

    def _have(self, entry: Entry) -> bool:
        """Bring one body in; False, with a message kept, where it can't be had."""
        try:
            stock = self._used(entry) if entry.kind == "use" else self._blank(entry)
        except Trouble as trouble:
            file = entry.one("file")
            self._say(
                trouble.code, trouble.says, file.span if file is not None else entry.span, trouble.advice
            )
            return False
        if stock is None:
            return False
        self.triangles += len(stock.triangles)
        if self.triangles > MOST_TRIANGLES:
            self._say(
                "too-many-facets",
                f"what the recipe brings in has more than {MOST_TRIANGLES} facets",
                entry.span,
                ("ask for coarser curves: --chord 0.05", "a row, ring or grid makes copies of one"),
            )
            return False
        self.stock[entry.name] = laid_down(stock, entry)
        return True

    def _blank(self, entry: Entry) -> Stock:
        from .stock_files import blank_stock

        stock, told = blank_stock(entry, self.store.shelf, self.store.chord, self.store.blanks)
        self.found.extend(told)
        return stock

    def _say(
        self,
        code: str,
        said: str,
        span: Span,
        advice: tuple[str, ...] = (),
        weight: Severity = Severity.ERROR,
    ) -> None:
        if len(self.found) < MOST_MESSAGES:
            self.found.append(Diagnostic(code, weight, said, span, advice=advice))

    # -- the part of another recipe ----------------------------------------------------------------

    def _used(self, entry: Entry) -> Stock | None:
        claim = entry.one("file")
        assert claim is not None
        path = find_file(claim.word_of("file"), (".mend",), self.store.shelf)
        trail = self.store.shelf.trail
        if path in trail or len(trail) > MOST_FILES:
            names = [one.name for one in (*trail[trail.index(path) if path in trail else 0 :], path)]
            said = (
                "recipes that use one another in a circle: "
                if path in trail
                else "recipes that use one another too deep: "
            )
            raise Trouble(
                "circle-of-files", said + " -> ".join(names), advice=("a recipe can't be a part of itself",)
            )
        tree = self._read(path)[2]
        settings = self._settings(entry, tree, path.stem)
        if settings is None:
            return None
        flipped = self.store.flipped != (
            self.claims.recipe is not None and self.claims.recipe.has("other hand")
        )
        result = self._made(path, settings, flipped)
        self._tell(entry, result, tree, settings)
        if not result.ok:
            return None
        stock = part_stock(result)
        if stock.wound and any(
            entry.name == ref.name for one in self.claims.of_kind("mirror") for ref in _refs(one)
        ):
            return replace(stock, twin=part_stock(self._made(path, settings, not flipped)))
        return stock

    def _made(self, path: Path, settings: Mapping[str, Quantity], flipped: bool) -> Result:
        """The used recipe compiled, once for each set of numbers."""
        key = (path, flipped, tuple(settings.items()))
        if key not in self.store.made:
            if len(self.store.made) >= MOST_PARTS:
                raise Trouble("bad-count", f"more than {MOST_PARTS} different parts are used")
            source, unread, _ = self._read(path)
            self.store.made[key] = self.run(source, unread, self.store.beside(path, flipped), settings)
        return self.store.made[key]

    def _read(self, path: Path) -> tuple[Source, tuple[Diagnostic, ...], Tree]:
        if path not in self.store.read:
            try:
                if path.stat().st_size > MOST_BYTES:
                    raise Trouble(
                        "file-too-big",
                        f"{path.name} is larger than {MOST_BYTES // 1_000_000} MB: it is no pattern",
                    )
                source, found = read_file(path)
            except OSError as error:
                raise Trouble(
                    "no-such-file", f"{path.name} can't be read: {error.strerror or 'the system refused'}"
                ) from None
            self.store.read[path] = (source, found, parse_rows(source)[0])
        return self.store.read[path]

    def _settings(self, entry: Entry, tree: Tree, pattern: str) -> dict[str, Quantity] | None:
        """The named numbers set by `with`, each once, all of them there to be set; in the order of their
        names.
        """
        lets = {one.name: one for one in tree.statements if one.kind == "let"}
        may = sorted(name for name, one in lets.items() if _may_be_set(one))
        given: dict[str, Quantity] = {}
        good = True
        for claim in entry.all("with"):
            name = claim.word_of("size")
            if name in given:
                self._say(
                    "said-twice",
                    f"`{name}` of `{entry.name}` is set twice",
                    claim.span,
                    ("keep one of the two lines",),
                )
                good = False
            elif name not in may:
                near = nearest(name, may)
                advice = (
                    "did you mean " + " or ".join(f"`{one}`" for one in near) + "?"
                    if near
                    else ("it takes: " + ", ".join(may[:MOST_LISTED]) if may else "it takes no sizes")
                )
                known = name in lets or any(one.name == name for one in tree.statements)
                why = (
                    f"`{name}` of {pattern} is not there to be set"
                    if known
                    else f"{pattern} has no size `{name}`"
                )
                self._say("no-such-size", why, claim.span, (advice,))
                good = False
            else:
                given[name] = claim.quantity("given")
        return dict(sorted(given.items())) if good else None

    def _tell(self, entry: Entry, result: Result, tree: Tree, settings: Mapping[str, Quantity]) -> None:
        """Messages of the used recipe at the line that uses it: its own file and line first."""
        lets = {one.span: one.name for one in tree.statements if one.kind == "let"}
        lines = {claim.word_of("size"): claim.span for claim in entry.all("with")}
        errors = [one for one in result.diagnostics if one.is_error]
        for one in errors[:MOST_TOLD]:
            name = lets.get(one.span, "") if one.span is not None else ""
            where = result.source.name + (f", line {one.span.line}" if one.span is not None else "")
            if one.code == "out-of-limits" and name in settings:
                self._say("out-of-limits", f"{one.headline} ({where})", lines[name])
                continue
            asked = ", ".join(f"{key} = {size.value:g}" for key, size in settings.items())
            advice = (*one.advice, *([f"it was asked for with {asked}"] if asked else []))
            self._say(
                "use-fails", f"`{entry.name}` can't be made: {where}: {one.headline}", entry.span, advice
            )
        for one in result.diagnostics if not errors else ():
            if one.severity is Severity.WARNING and one.code not in _QUIET:
                where = result.source.name + (f", line {one.span.line}" if one.span is not None else "")
                self._say(
                    one.code,
                    f"`{entry.name}` ({where}): {one.headline}",
                    entry.span,
                    one.advice,
                    Severity.WARNING,
                )

    # -- what a used part names --------------------------------------------------------------------

    def _inner_things(self, entries: dict[str, Entry], lost: set[str]) -> dict[str, Entry]:
        """The entries with a statement for each thing of a used part that is spoken of, and mentions made of
        its name.
        """
        found: dict[str, Entry] = {}
        wanted: dict[str, tuple[Entry, str]] = {}
        recipe = self.claims.recipe
        for name, entry in (*entries.items(), *((("", recipe),) if recipe is not None else ())):
            spoken = [ref for ref in _refs(entry) if _is_inner(ref, self.stock)]
            missing = [ref for ref in spoken if ref.part not in self.stock[ref.name].held]
            datum = entry.one("datum")
            if datum is not None and name in self.stock:
                ref = Ref(name, datum.word_of("word"), datum.span)
                spoken, missing = (
                    [*spoken, ref],
                    [*missing, *([ref] if ref.part not in self.stock[name].held else [])],
                )
            for ref in missing:
                self._unknown(ref)
            if missing:
                lost.add(name)
                continue
            wanted.update({str(ref): (entries[ref.name], ref.part) for ref in spoken})
            if name:
                found[name] = _rewritten(entry, self.stock)
        for full, (entry, part) in sorted(wanted.items()):
            if entry.name not in found:
                lost.add(full)
            else:
                found[full] = _inner(found[entry.name], full, self.stock[entry.name].held[part], entries)
        for name in self.stock:
            datum = found[name].one("datum") if name in found else None
            if datum is not None:
                _held_by(found, name, datum.word_of("word"), entries)
        return found

    def _unknown(self, ref: Ref) -> None:
        held = sorted(self.stock[ref.name].held)
        near = nearest(ref.part, [*held, *FLATS, *SIDES])
        advice = (
            "did you mean " + " or ".join(f"`{ref.name}.{one}`" for one in near) + "?"
            if near
            else ("it has: " + " ".join([*held, *FLATS, *SIDES][:MOST_LISTED]))
        )
        self._say("unknown-part", f"the part used as `{ref.name}` has no `{ref.part}`", ref.span, (advice,))


def bring_in(claims: Claims, store: Brought, run: Run) -> tuple[Claims, tuple[Diagnostic, ...]]:
    """The claims with all that they bring in from other files, and what could not be had.

    `run` compiles a used recipe: its text, what was said of that, the store, the numbers set from outside.
    """
    if store.flipped:
        claims = replace(claims, flipped=True)
    if not any(entry.kind in BROUGHT for entry in claims.entries.values()):
        return claims, ()
    bringing = _Bringing(claims, store, run)
    return bringing.claims_with_stock(), tuple(bringing.found)


def _may_be_set(let: Statement) -> bool:
    """A number of its own may be set from outside; one worked out from others only where it states limits."""
    given = let.head.get("number")
    return (
        not let.damaged
        and isinstance(given, Reading)
        and (let.head.get("least") is not None or not _leans(given.value))
    )


def _leans(expression: Expression) -> bool:
    if isinstance(expression, Name):
        return True
    if isinstance(expression, Negative | Bracket):
        return _leans(expression.of)
    return isinstance(expression, Binary) and (_leans(expression.left) or _leans(expression.right))


def _exact(value: float) -> Quantity:
    return Quantity(value, 0.0, Standing.WANTED, Unit.LENGTH)


def _boxed(entry: Entry, stock: Stock) -> Entry:
    """The body with the sizes of its box, said as a block says them."""
    sizes = zip(("long", "wide", "thick"), stock.box, strict=True)
    claims = [
        Claim(word, (("size", Measure(_exact(size), _exact(size))),), f"{word} {size:g}", entry.span)
        for word, size in sizes
    ]
    return _with_claims(entry, (*entry.claims, *claims))


def _inner(owner: Entry, name: str, held: Held, entries: Mapping[str, Entry]) -> Entry:
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


def _is_inner(ref: Ref, stock: Mapping[str, Stock]) -> bool:
    known = ref.name in stock and bool(ref.part) and not ref.part.isdigit()
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


def _rewritten(entry: Entry, stock: Mapping[str, Stock]) -> Entry:
    """The entry with each mention of a used part's thing made a mention of the statement that stands for
    it.
    """

    def told(value: Any) -> Any:
        if isinstance(value, Ref) and _is_inner(value, stock):
            return Ref(str(value), "", value.span)
        if isinstance(value, Pass):
            return Pass(value.how, told(value.thing))
        if isinstance(value, LaidAs):
            return LaidAs(value.wording, told(value.thing), told(value.other), value.where)
        return tuple(map(told, value)) if isinstance(value, tuple) else value

    if not any(_is_inner(ref, stock) for ref in _refs(entry)):
        return entry
    claims = [
        Claim(
            one.word,
            tuple((key, told(value)) for key, value in one.values),
            one.text,
            one.span,
            one.taken,
            one.bare,
        )
        for one in entry.claims
    ]
    return _with_claims(entry, claims)


__all__ = ["Brought", "bring_in"]
