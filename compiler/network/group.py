"""A group of clusters (tied by side words) that is built together, and how far its building has come."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct, field

from .equations import Equation
from .partial import is_oriented
from .plan import Plan
from .problem import Problem
from .types import SideWord

MOST = 1024  # partial layouts held at once; beyond it the earliest choices are reported and taken
SEARCHED = 24  # items up to which that many are held; of larger groups BEAM
BEAM = 64
KEPT = 16
PATIENCE = 1000  # fits of one layout in all, after which hardly any rivals are held
FEWEST = (6, 2)  # held at once, and after a clip, when patience is spent


class Group(Struct, frozen=True, eq=False):
    """What is built, as it was planned.

    `order`: items in the order of building, `number` their places in it; by item: the `rows` it meets, those
    `lent` by things in the same place, and equations that choose the `frame`; `turning`: items whose
    direction was chosen; `simultaneous`: some have to be placed together; `sides`: the side words that speak
    of the group, `put_off` those that are not applied; `oriented`: lines whose normal matters."""

    problem: Problem
    order: list[int]
    number: dict[int, int]
    rows: dict[int, list[Equation]]
    lent: dict[int, list[tuple[Equation, int]]]
    frame: dict[int, list[Equation]]
    turning: set[int | None]
    simultaneous: bool
    sides: list[SideWord]
    put_off: list[SideWord]
    oriented: set[int]

    def spoken_of(self, side: SideWord) -> set[int]:
        """Items of this group that a side word speaks of."""
        names = (side.a, side.b) if side.base is None else (side.a, side.b, side.base)
        return {i for i in (self.problem.where[n] for n in names) if i in self.number}


def group_of(problem: Problem, plans: Sequence[Plan], page_words: bool) -> Group:
    """The group of some plans; without `page_words`, left, right, above and below are put off."""
    order = [item for plan in plans for item in plan.order]
    inside = set(order)

    def speaks(side: SideWord) -> bool:
        names = (side.a, side.b) if side.base is None else (side.a, side.b, side.base)
        return any(problem.where[name] in inside for name in names)

    sides = [side for side in problem.sides if speaks(side)]
    return Group(
        problem,
        order,
        {item: n for n, item in enumerate(order)},
        {item: rows for plan in plans for item, rows in plan.rows.items()},
        {item: eqs for plan in plans for item, eqs in plan.lent.items()},
        {item: eqs for plan in plans for item, eqs in plan.frame.items()},
        {plan.turning for plan in plans},
        any(plan.simultaneous for plan in plans),
        sides,
        [] if page_words else [side for side in sides if side.way.axis is not None],
        {i for i in order if i not in problem.things and is_oriented(problem, i)},
    )


class Pending:
    """Which placed items still have a row or a side word to meet: rivals are told apart by them alone."""

    def __init__(self, group: Group) -> None:
        self.live: dict[int, None] = {}
        self._waiting = {item: len(group.problem.touching[item]) for item in group.order}
        for side in group.sides:
            for item in group.spoken_of(side):
                self._waiting[item] += 1

    def placed(self, item: int) -> None:
        """An item has its place now."""
        if self._waiting[item]:
            self.live[item] = None

    def met(self, items: Iterable[int]) -> None:
        """A row or side word of these items is met."""
        for item in items:
            if item in self._waiting:
                self._waiting[item] -= 1
                if not self._waiting[item]:
                    self.live.pop(item, None)


class Progress(Struct, eq=False):
    """How far a group is built: how many items are placed, which equations they met, what is pending, and how
    many rivals may be held (`most` at once, `kept` after a clip; `patience`: fits left).
    """

    group: Group
    pending: Pending
    most: int
    kept: int = KEPT
    patience: int = PATIENCE
    count: int = 0
    done: list[Equation] = field(default_factory=list)

    @property
    def placed(self) -> list[int]:
        """The items placed so far, in their order."""
        return self.group.order[: self.count]

    @property
    def searched(self) -> bool:
        """Whether as many rivals are held as ever are."""
        return self.most == MOST

    def tire(self) -> None:
        """Hold hardly any rivals once patience is spent."""
        if self.patience < 0:
            self.most, self.kept = FEWEST


def progress_of(group: Group) -> Progress:
    """A group of which nothing is placed yet."""
    return Progress(group, Pending(group), MOST if len(group.order) <= SEARCHED else BEAM)
