"""Messages that only repeat what is undecided elsewhere.

Of two mirror answers one is taken where nothing tells them apart.  What leans on a thing so placed may then
lie on the wrong side of something, or in two places itself, through no fault of its own lines: only the
thing that needs a word is told of."""

from __future__ import annotations

from msgspec.structs import replace

from ..facts.placing import Beside, Further
from ..network.types import Misfit, Solved
from .planes import Planes
from .rows import Rows


def undecided(solved: Solved) -> set[str]:
    """The statements that fit in several places, or can still move."""
    names = [one.name for one in solved.two_places] + [one.name for one in solved.left_open]
    return {statement_of(name) for name in names}


def without_echoes(solved: Solved, rows: Rows, before: set[str]) -> Solved:
    """An answer without side words that are unmet where a thing leaned on is undecided (`before`: those of
    earlier answers), and without a second place of a thing whose own side word is met in neither."""
    wrong = {owner for one in solved.misfits if (owner := _side_owner(one, rows))}
    if not wrong:
        return solved
    open_ones = before | (undecided(solved) - wrong)
    echoes = {name for name in wrong if leaned_on(rows.pages, name) & open_ones}
    return replace(
        solved,
        two_places=tuple(one for one in solved.two_places if statement_of(one.name) not in wrong),
        misfits=tuple(one for one in solved.misfits if _side_owner(one, rows) not in echoes),
    )


def leaned_on(pages: Planes, name: str) -> set[str]:
    """Every other statement that a thing's place is read from, at first or at second hand; that of its plane,
    too."""
    found: set[str] = set()
    waiting = [name]
    while waiting:
        one = waiting.pop()
        placing = pages.facts.of.get(one)
        if placing is None:
            continue
        names = {ref.name for fact in placing.facts for ref in fact.refs}
        if one in pages.layout.stands:
            names.add(pages.layout.stands[one][0].partition(".")[0])
        waiting += sorted(names - found - {name})
        found |= names - {name}
    return found


def statement_of(name: str) -> str:
    """The statement behind a hidden thing of a network: the middle of a side, the foot of a line."""
    return name.split("~")[0].split("|")[0].split(".")[0]


def _side_owner(misfit: Misfit, rows: Rows) -> str:
    """Whose side word it is that is not met; '' where it is another disagreement."""
    sides = (key for key in misfit.keys if isinstance(rows.facts.get(key), Beside | Further))
    return next((rows.keys[key][0].name for key in sides if key in rows.keys), "")
