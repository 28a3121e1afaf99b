"""The finished part of another recipe: found, compiled once for each set of numbers, its messages told."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from msgspec.structs import replace

from ...diagnostics import nearest
from ...diagnostics.types import Diagnostic, Severity, Span, Trouble
from ...imports.stock_orientation import laid_down
from ...imports.store import Messages, Store
from ...imports.types import FinishedPart, MadeRecipe, RecipeRequest
from ...language.items import Binary, Bracket, Expression, Name, Negative, Reading
from ...quantities import Quantity
from ...source import Source, find_file, read_file
from ...tree import Tree, parse_rows
from ...tree.types import Statement

MOST_FILES = 8
MOST_PARTS = 200
MOST_BYTES = 1_000_000  # of a recipe that is used: no pattern is longer
MOST_TOLD = 3
MOST_LISTED = 12
_QUIET = frozenset({"caution", "unused-name", "about-placed"})
"""Messages of a used recipe that are said of the whole, or of none."""


def bring(request: RecipeRequest, store: Store, messages: Messages) -> FinishedPart | None:
    """The part of the recipe that is asked for; None, with its errors told, where it can't be made.

    Raises Trouble: as `find_file` does, 'circle-of-files', 'file-too-big', 'no-such-file', 'bad-count'."""
    path = find_file(request.file, (".mend",), store.shelf)
    _no_circle(path, store.shelf.trail)
    source, _, tree = _read(path, store)
    settings = _settings(request, tree, path.stem, messages)
    if settings is None:
        return None
    flipped = store.flipped != request.flipped
    made = _made(path, settings, flipped, store)
    _tell(request, made, tree, source.name, messages)
    if made.part is None or not (made.part.part.wound and request.mirrored):
        return made.part
    twin = _made(path, settings, not flipped, store).part
    return replace(made.part, mesh=replace(made.part.mesh, twin=None if twin is None else twin.mesh))


def _no_circle(path: Path, trail: tuple[Path, ...]) -> None:
    """Raise Trouble('circle-of-files') for a file that is at work already, or too many deep."""
    if path not in trail and len(trail) <= MOST_FILES:
        return
    how = "in a circle" if path in trail else "too deep"
    names = [one.name for one in (*trail[trail.index(path) if path in trail else 0 :], path)]
    raise Trouble(
        "circle-of-files",
        f"recipes that use one another {how}: " + " -> ".join(names),
        advice=("a recipe can't be a part of itself",),
    )


def _made(path: Path, settings: Mapping[str, Quantity], flipped: bool, store: Store) -> MadeRecipe:
    """The used recipe compiled, once for each set of numbers."""
    key = (path, flipped, tuple(settings.items()))
    if key not in store.made:
        if len(store.made) >= MOST_PARTS:
            raise Trouble("bad-count", f"more than {MOST_PARTS} different parts are used")
        source, unread, _ = _read(path, store)
        store.made[key] = store.makers.run(source, unread, store.beside(path, flipped), settings)
    return store.made[key]


def _read(path: Path, store: Store) -> tuple[Source, tuple[Diagnostic, ...], Tree]:
    if path not in store.read:
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
        store.read[path] = (source, found, parse_rows(source)[0])
    return store.read[path]


def _settings(
    request: RecipeRequest, tree: Tree, pattern: str, messages: Messages
) -> dict[str, Quantity] | None:
    """The named numbers set by `with`, by name; None, with messages kept, where one can't be set."""
    may = sorted(one.name for one in tree.statements if one.kind == "let" and _may_be_set(one))
    given: dict[str, Quantity] = {}
    good = True
    for setting in request.settings:
        name = setting.name
        if name in given:
            headline = f"`{name}` of `{request.name}` is set twice"
            messages.say("said-twice", headline, setting.span, ("keep one of the two lines",))
        elif name not in may:
            known = any(one.name == name for one in tree.statements)
            why = (
                f"`{name}` of {pattern} is not there to be set"
                if known
                else f"{pattern} has no size `{name}`"
            )
            messages.say("no-such-size", why, setting.span, (_sizes_to_set(name, may),))
        else:
            given[name] = setting.number
            continue
        good = False
    return dict(sorted(given.items())) if good else None


def _sizes_to_set(name: str, may: list[str]) -> str:
    """The advice for a name that stands for no number that may be set."""
    if near := nearest(name, may):
        return "did you mean " + " or ".join(f"`{one}`" for one in near) + "?"
    return "it takes: " + ", ".join(may[:MOST_LISTED]) if may else "it takes no sizes"


def _may_be_set(let: Statement) -> bool:
    """A number of its own may be set from outside; one worked out from others only where it states limits."""
    given = let.head.get("number")
    return (
        not let.damaged
        and isinstance(given, Reading)
        and (let.head.get("least") is not None or not _leans(given.value))
    )


def _leans(expression: Expression) -> bool:
    """True where a sum speaks of another number."""
    if isinstance(expression, Name):
        return True
    if isinstance(expression, Negative | Bracket):
        return _leans(expression.of)
    return isinstance(expression, Binary) and (_leans(expression.left) or _leans(expression.right))


def _tell(request: RecipeRequest, made: MadeRecipe, tree: Tree, file: str, messages: Messages) -> None:
    """Messages of the used recipe at the line that uses it: its own file and line first."""
    lets = {one.span: one.name for one in tree.statements if one.kind == "let"}
    lines = {one.name: one.span for one in request.settings}
    settings = sorted(request.settings, key=lambda one: one.name)
    asked = ", ".join(f"{one.name} = {one.number.value:g}" for one in settings)
    errors = [one for one in made.said if one.is_error]
    for one in errors[:MOST_TOLD]:
        name = lets.get(one.span, "") if one.span is not None else ""
        where = _place(file, one.span)
        if one.code == "out-of-limits" and name in lines:
            messages.say("out-of-limits", f"{one.headline} ({where})", lines[name])
            continue
        advice = (*one.advice, *([f"it was asked for with {asked}"] if asked else []))
        headline = f"`{request.name}` can't be made: {where}: {one.headline}"
        messages.say("use-fails", headline, request.span, advice)
    for one in made.said if not errors else ():
        if one.severity is Severity.WARNING and one.code not in _QUIET:
            headline = f"`{request.name}` ({_place(file, one.span)}): {one.headline}"
            messages.say(one.code, headline, request.span, one.advice, Severity.WARNING)


def _place(file: str, span: Span | None) -> str:
    return file if span is None else f"{file}, line {span.line}"


__all__ = ["bring", "laid_down"]
