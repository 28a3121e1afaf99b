"""Who is who: every name a recipe declares, and every mention of one found or answered."""

from __future__ import annotations

from msgspec import Struct, field

from ..diagnostics import nearest
from ..diagnostics.types import Diagnostic, Label, Severity, Span
from ..kinds import traits
from ..language.items import Name
from ..language.shapes import spoken_of
from ..language.slots import SlotType
from ..tree.types import Statement, Tree
from .fits import SCREW
from .needs import BODIES, EDGED, PATTERNS
from .types import FLATS, SIDES, Ref


def parts_of(kind: str) -> tuple[str, ...]:
    """The flats and sides a kind gives names to for nothing."""
    return traits(kind).parts or (SIDES if kind in EDGED else ())


class Names(Struct):
    """The names of a recipe: statement by name, those not understood, those spoken of, and what went
    wrong.
    """

    declared: dict[str, Statement]
    unread: set[str]
    copied: set[str] = field(default_factory=set)
    spoken_of: set[str] = field(default_factory=set)
    found: list[Diagnostic] = field(default_factory=list)

    def kind(self, name: str) -> str:
        """The kind of the statement of this name, empty when there is none."""
        statement = self.declared.get(name)
        return statement.kind if statement else ""

    def resolve(self, name: Name) -> Ref | None:
        """The thing a mention speaks of; None, with a message kept, when there is no such thing.

        None without a message when the thing was declared but not understood: that was answered where it
        stands."""
        if name.text in self.declared or name.text in self.unread:
            base, part = name.text, ""
        else:
            base, _, part = name.text.partition(".")
        if not part and base not in self.declared and base not in self.unread:
            if base in FLATS:
                return Ref("", base, name.span)
            self._unknown(name.text, name.span)
            return None
        if base in self.unread:
            self.spoken_of.add(base)
            return None
        if base not in self.declared:
            self._unknown(base, name.span)
            return None
        self.spoken_of.add(base)
        if part and not self._has_part(base, part, name.span):
            return None
        return Ref(base, part, name.span)

    def _has_part(self, base: str, part: str, span: Span) -> bool:
        kind = self.declared[base].kind
        parts = parts_of(kind)
        if part in parts or (
            kind == "use" and not part.isdigit()
        ):  # what a used part holds is seen when it is brought in
            return True
        if part.isdigit() and len(part) <= 6:
            if base in self.copied:
                return True
            said = f"`{base}` has no copies, so there is no `{base}.{part}`"
            help_line = "a row, ring, grid or mirror `of` it makes copies .1 .2 ... (.1 is the thing itself)"
            self.found.append(Diagnostic("unknown-part", Severity.ERROR, said, span, advice=(help_line,)))
            return False
        near = nearest(part, list(parts))
        advice = f"a {kind} has: " + " ".join(parts) if parts else f"a {kind} has no flats or sides to name"
        if near:
            advice = "did you mean " + " or ".join(f"`{base}.{one}`" for one in near) + "?"
        said = f"`{base}` is a {kind} and has no `{part}`"
        self.found.append(Diagnostic("unknown-part", Severity.ERROR, said, span, advice=(advice,)))
        return False

    def _unknown(self, text: str, span: Span) -> None:
        near = nearest(text, sorted([*self.declared, *self.unread]))
        advice = f"write a statement that makes it, such as: point {text}"
        if near:
            advice = "did you mean " + " or ".join(f"`{one}`" for one in near) + "?"
        elif text in SIDES:
            holders = [
                one for one, statement in self.declared.items() if text in traits(statement.kind).parts
            ][:3]
            advice = (
                f"a side belongs to a body: {' or '.join(f'{one}.{text}' for one in holders or ['body'])}"
            )
        elif text[0] in "\u00d8\u00f8\u2300" and text[1:]:
            advice = f"leave the sign out: {text[1:]}"
        elif SCREW.match(text):
            advice = f"a screw's hole is   clears {text}   and its nut's   hex {text} nut"
        self.found.append(
            Diagnostic("unknown-name", Severity.ERROR, f"nothing is named `{text}`", span, advice=(advice,))
        )


def collect(tree: Tree) -> Names:
    """All names of a tree; a name given twice is answered at both lines and counts as not understood."""
    declared: dict[str, Statement] = {}
    unread: set[str] = set()
    found: list[Diagnostic] = []
    for statement in tree.statements:
        name = statement.name
        if statement.kind == "recipe" or not name:
            continue
        if name in declared or name in unread:
            first = declared.get(name)
            if first is not None:
                found.append(_twice(name, statement, first))
            continue
        if "." in name:
            said = f"`{name}`: a name has no dot"
            advice = ("a dot speaks of a part: wall.top; write a hyphen or an underline in a name",)
            found.append(Diagnostic("dotted-name", Severity.ERROR, said, statement.span, advice=advice))
            unread.add(name)
        elif statement.damaged:
            unread.add(name)
        else:
            declared[name] = statement
    names = Names(dict(sorted(declared.items())), unread, _copied(tree))
    names.found.extend(found)
    return names


def by_itself(ref: Ref, span: Span) -> Diagnostic:
    """The message for a thing that is said to lie on, or from, itself; the card has no flats that it could
    speak of.
    """
    if not ref.name:
        advice = (f"name the body: body.{ref.part}",)
        return Diagnostic("which-flat", Severity.ERROR, f"whose `{ref.part}` is meant?", span, advice=advice)
    said = f"`{ref.name}` can't be placed by itself"
    advice = ("name the other thing, the one it was measured from",)
    if beside := {"bottom": "below", "top": "above", "left": "left of", "right": "right of"}.get(ref.part):
        advice = (
            (
                "write the reading at the thing it was taken to:  "
                f"from {ref} centre ...   and   {beside} {ref.name}"
            ),
        )
    return Diagnostic("leans-on-itself", Severity.ERROR, said, span, advice=advice)


_PARTS_SHOWN = (
    ("side", "a side such as wall.top"),
    ("wall", "a side of a body such as wall.top"),
    ("flat", "a flat such as wall.front"),
)


def not_spoken_of(ref: Ref, kind: str, word: str, slot: SlotType) -> Diagnostic:
    """The message for a thing of a kind that a slot takes none of; what it does take, and what was likely
    meant.
    """
    what = f"`{ref}` is a {kind}"
    if kind == "let":
        what = f"`{ref}` is a number of the recipe's own"
    elif ref.part.isalpha():
        what = f"`{ref}` is a flat or side of a {'body' if kind in BODIES or not kind else kind}"
    advice: tuple[str, ...] = (f"it takes: {slot.takes or _taken(slot)}",)
    if word == "between" and kind in ("peg", "turning") and not ref.part:
        advice = (f"any side of it will do:  {ref}.right   (a fillet runs all round)", *advice)
    elif word == "meshes" and kind == "block" and not ref.part:
        advice = ("a rack tells what it meshes with, at the block:  rack top meshes NAME", *advice)
    said = f"{what}, which `{word}` can't speak of"
    return Diagnostic("wrong-kind", Severity.ERROR, said, ref.span, advice=advice)


def _taken(slot: SlotType) -> str:
    """The kinds and parts of things that a slot takes, in words."""
    parts = [shown for part, shown in _PARTS_SHOWN if part in slot.holds]
    return ", ".join([*sorted(spoken_of(slot)), *parts])


def _copied(tree: Tree) -> set[str]:
    """Names of things that a pattern makes copies of."""
    found: set[str] = set()
    for statement in tree.statements:
        if statement.kind in PATTERNS:
            for fact in statement.facts:
                things = fact.get("things") if fact.word == "of" else None
                if isinstance(things, tuple):
                    found.update(one.text for one in things if isinstance(one, Name))
    return found


def _twice(name: str, second: Statement, first: Statement) -> Diagnostic:
    return Diagnostic(
        "name-twice",
        Severity.ERROR,
        f"two things are named `{name}`",
        second.span,
        others=(Label(first.span, "and here"),),
        advice=("give one of them another name",),
    )
