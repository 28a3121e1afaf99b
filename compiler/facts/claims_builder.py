"""The syntax tree into claims: each fact looked up, its numbers worked out, its kind of thing checked.

Claims come in the order of names and of the typed text of each line, so that the order of writing can't reach
any later room."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Mapping

from ..diagnostics.types import Diagnostic, Label, Severity
from ..quantities import Quantity, Standing, Unit
from ..tree.types import (
    Fact,
    Name,
    Phrase,
    Quoted,
    Reading,
    SizeValue,
    Statement,
    Stop,
    Tree,
    Value,
    Word,
)
from ..tree.writing import fact_text, item_text, up_to_made
from .limits import within_limits
from .naming import Names, by_itself, collect, not_spoken_of
from .needs import (
    BODIES,
    BOX_SIZES,
    BOX_WORDS,
    BROUGHT,
    EXCLUDES,
    FIT_WORDS,
    HOLES,
    NEEDS,
    PATTERNS,
    SPEAKS_OF,
)
from .pockets import by_number, of_screw
from .sizes import Sizes, Unclear
from .types import FLATS, SIDES, Claim, Claims, Content, Entry, LaidAs, Measure, Pass, Ref

MOST_COPIES = 10_000
MOST_MESSAGES = 300
_UNITS = {"angle": Unit.ANGLE, "force": Unit.FORCE}
LEAST = 0.001  # mm: no printer and no calliper knows of anything smaller
_MORE_THAN_NOTHING = frozenset(
    {
        "across",
        "groove",
        "bored",
        "bevel",
        "round inside",
        "round outside",
        "counterbore",
        "countersink",
        "along",
        "collar",
        "by",
        "to",
        "pitch",
        "rack",
        "reach",
        "nose",
        "tip",
        "sunk",
        "springs",
        "bead",
        "cove",
        "vee",
        "round",
        "hollow",
    }
)
_SIZES = frozenset({"number", "depth", "free", "thick", "mouth", "wide"})
_STATIONS = ("start", "stop", "station")
_MAY_BE_NEGATIVE = {"at", "roughly", "angle", "turned", "raised", "over", "pitch", "shift", "with"}
_COUNTED = frozenset(
    {"count", "diamond", "off", "pitch", "rack", "serrated", "span", "splines", "starts", "teeth"}
)
_TWO = {"flat": ("two flats opposite each other are read over both:  flats 6.5",)}
_CARD = ("fits", "broke", "changed", "plastic", "load", "prints on", "result", "author", "licence", "laid")


def state_tree(
    tree: Tree, given: Mapping[str, Quantity] | None = None
) -> tuple[Claims, tuple[Diagnostic, ...]]:
    """All that a recipe claims, and every claim that can't be understood; `given` stands for what some `let`
    says.
    """
    names = collect(tree)
    return _Stating(tree, names, given or {}).claims(), tuple(names.found)


class _Stating:
    def __init__(self, tree: Tree, names: Names, given: Mapping[str, Quantity]) -> None:
        self.names = names
        self.found = names.found
        recipes = [one for one in tree.statements if one.kind == "recipe"]
        self.recipe = recipes[0] if recipes else None
        self.sizes = Sizes(names, None)
        self.sizes.given = given
        for other in recipes[1:]:
            self.found.append(_once(other, recipes[0]))
        if self.recipe is None and not any(one.kind == "" for one in tree.statements):
            said = "the recipe has no head line"
            advice = ('begin with: recipe "what it is"',)
            self.found.append(Diagnostic("no-recipe", Severity.ERROR, said, advice=advice))
        self._set_give()

    def _set_give(self) -> None:
        for fact in self.recipe.facts if self.recipe else ():
            if fact.word == "readings" and isinstance(given := fact.get("give"), Reading):
                try:
                    self.sizes.give = Sizes(self.names, self.sizes.value(given.value).value).give
                    self.sizes.give_stated = True
                except Unclear:
                    continue
            tool = fact.get("tool")
            if (
                fact.word == "by"
                and isinstance(tool, Word)
                and isinstance(given := fact.get("give"), Reading)
            ):
                with contextlib.suppress(Unclear):
                    self.sizes.limits[tool.text] = self.sizes.value(given.value).value

    def claims(self) -> Claims:
        entries: dict[str, Entry] = {}
        lets: list[Entry] = []
        unread = set(self.names.unread)
        for name, statement in self.names.declared.items():
            if len(self.found) >= MOST_MESSAGES:
                said = f"more than {MOST_MESSAGES} claims can't be understood; the rest was not looked at"
                advice = ("mend the first few and try again: one mistake may be behind them all",)
                self.found.append(
                    Diagnostic("too-many-mistakes", Severity.ERROR, said, statement.span, advice=advice)
                )
                break
            entry = self._entry(statement)
            if entry is None:
                unread.add(name)
            elif statement.kind == "let":
                lets.append(entry)
            else:
                entries[name] = entry
        recipe = self._entry(self.recipe) if self.recipe is not None else None
        title, card = self._card()
        spoken = frozenset(self.names.spoken_of)
        return Claims(title, card, recipe, without(entries, unread), frozenset(unread), spoken, tuple(lets))

    def _card(self) -> tuple[str, tuple[tuple[str, str], ...]]:
        if self.recipe is None:
            return "", ()
        title = self.recipe.head.get("text")
        card: dict[str, str] = {}
        for fact in self.recipe.facts:
            if fact.word in _CARD:
                lead = len(fact.word.split())
                said = " ".join(
                    one.text if isinstance(one, Quoted) else item_text(one) for one in fact.items[lead:]
                )
                said = said.replace(" ,", ",")
                card[fact.word] = f"{card[fact.word]}; {said}" if fact.word in card else said
        return title.text if isinstance(title, Quoted) else "", tuple(sorted(card.items()))

    def _entry(self, statement: Statement) -> Entry | None:
        if statement.kind == "let":
            good = self.sizes.let(statement) and within_limits(self.sizes, statement)
            return Entry("let", statement.name, (), statement.span) if good else None
        good = True
        claims: list[Claim] = []
        facts = self._distinct(statement)
        for fact in facts:
            claim = self._claim(fact, statement)
            if claim is None:
                good = False
            else:
                claims.append(claim)
        if not self._complete(statement, facts):
            good = False
        if statement.kind in BROUGHT and isinstance(file := statement.head.get("file"), Quoted):
            claims.append(Claim("file", (("file", file.text),), file.text, file.span))
        claims.sort(key=lambda one: one.text)
        return Entry(statement.kind, statement.name, tuple(claims), statement.span) if good else None

    def _distinct(self, statement: Statement) -> list[Fact]:
        """The facts of a statement, an identical line once (with a note), a single-valued one said twice
        answered.
        """
        kept: list[Fact] = []
        seen: dict[str, Fact] = {}
        by_word: dict[str, Fact] = {}
        for fact in statement.facts:
            text = " ".join(item_text(one) for one in fact.items)
            if text in seen:
                self.found.append(
                    Diagnostic(
                        "same-line-twice",
                        Severity.NOTE,
                        f"`{text}` stands twice; it counts once",
                        fact.span,
                        others=(Label(seen[text].span, "first here"),),
                    )
                )
                continue
            seen[text] = fact
            if not fact.many and fact.word in by_word:
                self._twice(statement, by_word[fact.word], fact)
                continue
            by_word[fact.word] = fact
            kept.append(fact)
        for words in EXCLUDES.get(statement.kind, ()):
            same = [fact for fact in kept if fact.word in words]
            for fact in same[1:]:
                self._twice(statement, same[0], fact)
        return kept

    def _twice(self, statement: Statement, first: Fact, second: Fact) -> None:
        said = f"`{first.word}` of `{statement.name or statement.kind}` is said twice"
        if first.word != second.word:
            said = f"`{second.word}` and `{first.word}` of `{statement.name}` say the same thing in two ways"
        self.found.append(
            Diagnostic(
                "said-twice",
                Severity.ERROR,
                said,
                second.span,
                others=(Label(first.span, "and here"),),
                advice=("keep one of the two lines", *_TWO.get(first.word, ())),
            )
        )

    def _complete(self, statement: Statement, facts: list[Fact]) -> bool:
        words = {fact.word for fact in facts}
        if statement.kind in BOX_SIZES:
            return self._box_sizes(statement, words)
        complete = True
        for group, advice in NEEDS.get(statement.kind, ()):
            if not words & set(group):
                said = f"{statement.kind} `{statement.name}` does not say " + _either(group)
                advice_line = (f"add a line such as: {advice}",)
                self.found.append(
                    Diagnostic("fact-missing", Severity.ERROR, said, statement.span, advice=advice_line)
                )
                complete = False
        return complete

    def _box_sizes(self, statement: Statement, words: set[str]) -> bool:
        given = sum(one in words for one in (*BOX_WORDS, "reaches", "taper"))
        needed, said = BOX_SIZES[statement.kind]
        if given == needed:
            return True
        headline = f"{statement.kind} `{statement.name}` needs {said} sizes and has {given}"
        order = "they run across, up and towards you" if needed == 3 else "they run across and up"
        last = " or ".join(f"`{one}`" for one in ("reaches", "taper") if one in words)
        advice = [f"{said} of long, wide, high{', thick' if needed == 3 else ''}: in this order {order}"]
        advice += [f"{last} stands for the last of them"] if last else []
        self.found.append(
            Diagnostic("fact-missing", Severity.ERROR, headline, statement.span, advice=tuple(advice))
        )
        return False

    def _claim(self, fact: Fact, statement: Statement) -> Claim | None:
        values: list[tuple[str, Content]] = []
        good = True
        try:
            fact = by_number(self.sizes, fact)
            values += of_screw(self.sizes, fact)
        except Unclear:
            good = False
        for key, value in fact.values:
            try:
                content = self._content(key, value, fact, statement)
            except Unclear:
                content = None
            if content is None:
                good = False
            else:
                values.append((key, content))
        if fact.word in FIT_WORDS[:-1] and good:
            try:
                values.append(("meant", self.sizes.meant_by(fact, statement.kind)))
            except Unclear:
                good = False
        if fact.word in ("same as", "chord") and good:
            try:
                alike = self.sizes.alike(fact) if fact.word == "same as" else self.sizes.bowed(statement)
            except Unclear:
                return None
            values.append(("across", alike))
        if fact.word == "drill" and good:
            try:
                measure = self.sizes.measure(fact)
            except Unclear:
                return None
            limits: list[tuple[str, Content]] = (
                [("limits", "drills")] if fact.get("stops") is not None else []
            )
            values = [*limits, ("size", measure)] if measure is not None else values
        text, bare = fact_text(fact.items), fact_text(up_to_made(fact))
        return (
            Claim(fact.word, tuple(values), text, fact.span, self.sizes.taken(fact), bare) if good else None
        )

    def _content(self, key: str, value: Value, fact: Fact, statement: Statement) -> Content | None:
        if isinstance(value, Word | Quoted):
            return value.text
        if isinstance(value, Name):
            return self._thing(key, value, fact, statement)
        if isinstance(value, Reading):
            return self._number(key, value, fact)
        if isinstance(value, SizeValue):
            measure = self.sizes.sized(value) if key != "size" else self.sizes.measure(fact)
            assert measure is not None
            self._positive(
                measure, fact, 0.0 if key in ("first", "second") else LEAST
            )  # a taper may end in a point
            return measure
        if isinstance(value[0], Reading):
            some = tuple(one for one in value if isinstance(one, Reading))
            return self.sizes.averaged(some)
        if isinstance(value[0], Phrase):
            laid = [self._laid(one) for one in value if isinstance(one, Phrase)]
            return tuple(one for one in laid if one is not None) if all(laid) else None
        return self._things(key, value, fact, statement)

    def _things(self, key: str, value: Value, fact: Fact, statement: Statement) -> Content | None:
        refs: list[Ref] = []
        passes: list[Pass] = []
        assert isinstance(value, tuple)
        good = True
        for one in value:
            name = one.thing if isinstance(one, Stop) else one
            assert isinstance(name, Name)
            if fact.word == "through" and statement.kind in HOLES and name.text == "all":
                refs.append(Ref("", "all", name.span))
                continue
            ref = self._thing(key, name, fact, statement)
            if not isinstance(ref, Ref):
                good = False
                continue
            refs.append(ref)
            passes.append(Pass(one.how if isinstance(one, Stop) else "", ref))
        if not good:
            return None
        return tuple(passes) if isinstance(value[0], Stop) else tuple(refs)

    def _thing(self, key: str, name: Name, fact: Fact, statement: Statement) -> Ref | str | Quantity | None:
        if key == "mate":
            return self.names.resolve(name) if name.text in self.names.declared else name.text
        if key == "name":
            return name.text
        ref = self.names.resolve(name)
        if ref is None:
            return None
        if ref.name == statement.name and fact.word not in ("of",):
            self.found.append(by_itself(ref, name.span))
            return None
        return ref if self._right_kind(key, ref, fact, statement) else None

    def _right_kind(self, key: str, ref: Ref, fact: Fact, statement: Statement) -> bool:
        allowed = SPEAKS_OF.get((fact.word, key))
        if allowed is None:
            return True
        kind = self.names.kind(ref.name)
        if ref.part in FLATS:
            good = "flat" in allowed
        elif ref.part in SIDES:
            good = "side" in allowed
        elif kind == "use" and ref.part and not ref.part.isdigit():
            good = "point" in allowed
        elif ref.part:
            good = "copy" in allowed and (kind in allowed)
        else:
            good = kind in allowed
        if not good:
            self.found.append(not_spoken_of(ref, kind or "", fact.word, allowed))
        return good

    def _number(self, key: str, reading: Reading, fact: Fact) -> Quantity:
        read = Standing.READ if key in _STATIONS or fact.word in ("drill", "at") else Standing.WANTED
        found = self.sizes.reading(reading, read)
        if fact.word == "angle" and not reading.about:
            u = found.u or self.sizes.limits["protractor"] / math.sqrt(3)
            found = Quantity(found.value, u, Standing.READ, found.unit)
        wanted = found.unit if key == "given" else _UNITS.get(key, Unit.LENGTH)
        if fact.word == "by" and isinstance(tool := fact.get("tool"), Word) and tool.text == "protractor":
            wanted = Unit.ANGLE
        place = reading.value.span
        if found.unit not in (Unit.PLAIN, wanted) or (key == "count" and found.unit is not Unit.PLAIN):
            belongs = "a count" if key == "count" else wanted.value
            said = f"{found.unit.value} stands where {belongs} belongs"
            raise self._bad(
                "wrong-unit", said, place, "a bare number is in mm, an angle in degrees; a count has no unit"
            )
        if key in ("count", "across", "up", "over") and fact.word in _COUNTED:
            if found.value != int(found.value) or not 1 <= found.value <= MOST_COPIES:
                said = f"{found.value:g} is no count"
                raise self._bad(
                    "bad-count", said, place, f"a count is a whole number from 1 to {MOST_COPIES}"
                )
        elif fact.word not in _MAY_BE_NEGATIVE and found.value < 0:
            raise self._bad(
                "bad-size", f"{found.value:g} is negative", place, "sizes and readings are positive"
            )
        elif key in _SIZES and fact.word in _MORE_THAN_NOTHING and abs(found.value) < LEAST:
            raise self._bad(
                "bad-size",
                f"`{fact.word}` is {found.value:g}: a size must be more than nothing",
                place,
                "check the line, or the sizes it is worked out from",
            )
        return found

    def _positive(self, measure: Measure, fact: Fact, least: float) -> None:
        if measure.made.value < least or (measure.read is not None and measure.read.value < least):
            said = f"`{fact.word}` is {measure.made.value:g}: a size must be more than nothing"
            raise self._bad("bad-size", said, fact.span, "check the line, or the sizes it is worked out from")
        if measure.made.unit not in (Unit.PLAIN, Unit.LENGTH):
            said = f"{measure.made.unit.value} stands where a length belongs"
            raise self._bad("wrong-unit", said, fact.span, "a bare number is in mm")

    def _bad(self, code: str, said: str, span: object, advice: str) -> Unclear:
        self.found.append(Diagnostic(code, Severity.ERROR, said, span, advice=(advice,)))  # type: ignore[arg-type]
        return Unclear()

    def _laid(self, phrase: Phrase) -> LaidAs | None:
        given = dict(phrase.values)
        refs: dict[str, Ref | None] = {}
        for key in ("thing", "other"):
            name = given.get(key)
            refs[key] = self.names.resolve(name) if isinstance(name, Name) else None
        where = given.get("where")
        wording = "at the" if where is not None else phrase.shape.replace(" THING", "").replace("[side] ", "")
        thing = refs["thing"]
        if thing is None or ("other" in given and refs["other"] is None):
            return None
        return LaidAs(wording, thing, refs["other"], where.text if isinstance(where, Word) else "")


def _either(words: tuple[str, ...]) -> str:
    shown = [f"`{one}`" for one in words[:4]]
    return shown[0] if len(shown) == 1 else ", ".join(shown[:-1]) + " or " + shown[-1]


def _once(second: Statement, first: Statement) -> Diagnostic:
    return Diagnostic(
        "said-twice",
        Severity.ERROR,
        "a file holds one recipe",
        second.span,
        others=(Label(first.span, "it begins here"),),
        advice=("put the second one into a file of its own",),
    )


def without(entries: dict[str, Entry], unread: set[str]) -> dict[str, Entry]:
    """The entries that lean on nothing that was not understood; what leans on it joins `unread`."""
    while True:
        lost = {name for name, entry in entries.items() if leans_on(entry) & unread}
        if not lost:
            return entries
        unread |= lost
        entries = {name: entry for name, entry in entries.items() if name not in lost}


def leans_on(entry: Entry) -> set[str]:
    """The names of all things that an entry speaks of."""
    found: set[str] = set()
    for claim in entry.claims:
        for _, value in claim.values:
            for one in value if isinstance(value, tuple) else (value,):
                ref = one.thing if isinstance(one, Pass) else one
                if isinstance(ref, Ref):
                    found.add(ref.name)
    return found


__all__ = ["BODIES", "HOLES", "PATTERNS", "leans_on", "state_tree", "without"]
