"""Recipes as they are made up: statements, the ways to write them down, and what is known of the part
beforehand.

A fact is kept with its lengths in braces (`from pivot near {4.95}`), so that one recipe can be written in
millimetres or in inches, in any order of lines.  What is known beforehand is kept beside it: places,
openings, round sizes."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from random import Random

from makegood.quantities.vectors import XY

from . import words

_LENGTH = re.compile(r"\{([^}]*)\}")
# `front`, `back` and `all` speak of parts of a body and a screw is no name to give away; every other word is
# free.
NAMES = (
    *(one for one in words.NAMES if one not in ("all", "M4")),
    "mm",
    "in",
    "deg",
    "wanted",
    "overall",
    "to",
    "N",
)


def mm(value: float) -> str:
    """A length in mm to the nanometre's thousandth, without needless noughts."""
    said = f"{value:.9f}".rstrip("0")
    return said + "0" if said.endswith(".") else said


def inches(value: float) -> str:
    """The same length in inches, to the last digit of a double."""
    return f"{value / 25.4:.16f} in"


@dataclass
class Statement:
    """A head and its facts, lengths in braces."""

    kind: str
    name: str
    facts: list[str] = field(default_factory=list)
    head: str = ""

    def lines(self, write: object) -> list[str]:
        """The statement as written, lengths by `write`."""
        head = self.head or (f"{self.kind} {self.name}" if self.name else self.kind)
        return [_written(head, write), *("    " + _written(fact, write) for fact in self.facts)]


def _written(text: str, write: object) -> str:
    return _LENGTH.sub(lambda one: write(float(one.group(1))), text)  # type: ignore[operator]


@dataclass
class Placed:
    """A round thing (or point, r = 0) whose place is known: its radius as read, -1 where no edge of it was
    read.
    """

    name: str
    at: XY
    r: float = 0.0


@dataclass
class Recipe:
    """Statements, and what is known of the part: places on the sheet, openings, diameters of round holes and
    pegs.
    """

    statements: list[Statement] = field(default_factory=list)
    places: dict[str, XY] = field(default_factory=dict)
    rounds: dict[str, float] = field(default_factory=dict)
    pegs: dict[str, float] = field(default_factory=dict)
    turnings: dict[str, float] = field(default_factory=dict)
    genus: int | None = None
    thickens: list[Statement] = field(default_factory=list)
    cuts: list[Statement] = field(default_factory=list)
    taken: set[str] = field(default_factory=set)
    tapers: dict[str, tuple[float, float]] = field(default_factory=dict)

    def text(
        self,
        rnd: Random | None = None,
        write: object = mm,
        more: tuple[Statement, ...] = (),
        hand: bool = False,
    ) -> str:
        """The recipe as text; with `rnd` its statements and facts in another order."""
        some = [*self.statements, *more]
        if rnd is not None:
            some = [
                Statement(one.kind, one.name, rnd.sample(one.facts, len(one.facts)), one.head) for one in some
            ]
            rnd.shuffle(some)
        blocks = []
        for one in some:
            lines = one.lines(write)
            if one.kind == "recipe" and hand and "    other hand" not in lines:
                lines.append("    other hand")
            elif one.kind == "recipe" and not hand:
                lines = [line for line in lines if line != "    other hand"]
            blocks.append("\n".join(lines))
        return "\n\n".join(blocks) + "\n"

    def name(self, rnd: Random) -> str:
        """A name that nothing has yet."""
        free = [one for one in NAMES if one not in self.taken]
        said = rnd.choice(free) if free and rnd.random() < 0.8 else f"thing{len(self.taken)}"
        self.taken.add(said)
        return said

    def add(self, kind: str, rnd: Random, *facts: str, name: str | None = None) -> Statement:
        """One more statement; empty facts are left out."""
        made = Statement(kind, name or self.name(rnd), [one for one in facts if one])
        self.statements.append(made)
        return made


def begun(rnd: Random) -> Recipe:
    """A recipe with nothing but its card."""
    made = Recipe()
    facts = [
        "readings +-{0.05}",
        "plastic PETG",
        'fits "shed door"',
        'broke "snapped; read in two halves"',
        'licence "CC0-1.0"',
        'author "Ida"',
        'result "printed twice; the second one fits"',
        'changed "2 mm thicker"',
        "off 3",
        f"by {rnd.choice(('calliper', 'drill', 'rule', 'gauge', 'photo'))} +-{{0.1}}",
        "by protractor +-1 deg",
    ]
    made.statements.append(
        Statement("recipe", "", rnd.sample(facts, rnd.randint(0, len(facts))), 'recipe "spare no. 1"')
    )
    return made


def size(made: Recipe, value: float, rnd: Random) -> str:
    """A length as a plain number, a sum, or a sum with a `let` of its own."""
    pick = rnd.random()
    if pick < 0.7:
        return f"{{{value}}}"
    if pick < 0.8:
        return f"{{{value}}}" + rnd.choice(
            (
                f", {{{value}}}",
                " +-{0.1}",
                " +-{0.2} rough",
                f" worn made {{{value}}}",
                f", {{{value}}} doubtful",
                f" made {{{value}}}",
            )
        )
    part = round(value * rnd.choice((0.25, 0.5)), 3)
    if pick < 0.9:
        return f"{{{part}}} + {{{value - part}}}"
    let = made.name(rnd)
    made.statements.append(Statement("let", let, [], f"let {let} = {{{part}}}"))
    return f"{{{value + 2 * part}}} - 2 * {let}"
