"""Names, numbers and lines at random, straight from the table of fact shapes: every shape, every slot.

All generators of this folder draw from a `random.Random`, so that a failing case is one seed.
"""

from __future__ import annotations

from random import Random

from makegood.language.shapes import Element, Kind, Optional, Shape, Sign, Slot, Small, group, kinds

# Any word may be a name: words of the language, letters of other scripts, joined words.
NAMES = (
    "near",
    "from",
    "across",
    "deep",
    "bore",
    "point",
    "made",
    "not",
    "inside",
    "into",
    "all",
    "about",
    "worn",
    "M4",
    "left",
    "on",
    "centre",
    "count",
    "through",
    "wide",
    "pivot",
    "heel",
    "far-far",
    "tip2",
    "long_name_of_a_thing",
    "a",
    "B",
    "x",
    "Öse",
    "ключ",
    "軸",
    "élan",
    "straße",
    "ñandú-b2",
    "μ",
    "wall",
    "spare-wheel-left",
    "let",
    "recipe",
    "drill",
    "with",
)
PARTS = ("front", "back", "left", "right", "top", "bottom", "1", "2", "7")
TEXTS = ("", "hose reel", "# no comment", "5 mm, two", 'Ü 1/2"'.replace('"', ""), "a  b", "+-", "(")
CONDITIONS = ("rough", "worn", "doubtful")


def name(rnd: Random) -> str:
    """A name: a word of the language or of the writer's own."""
    return rnd.choice(NAMES)


def thing(rnd: Random) -> str:
    """A name, or a flat, side or copy of one."""
    said = name(rnd)
    if rnd.random() < 0.35:
        return f"{said}.{rnd.choice(PARTS)}"
    return rnd.choice(("front", "back")) if rnd.random() < 0.05 else said


def plain(rnd: Random) -> str:
    """A number as it may be typed, with or without a unit."""
    value = rnd.choice((rnd.uniform(0.1, 9.0), rnd.uniform(1.0, 60.0), rnd.uniform(0.0, 400.0)))
    said = rnd.choice(
        (f"{value:.0f}", f"{value:.1f}", f"{value:.2f}", f"{value:.3f}", f".{int(value)}", f"{int(value)}.")
    )
    unit = rnd.choice(("", "", "", "", " mm", "mm", " in", "in", " cm", " deg", "°", " °", " N", " kg", " %"))
    if rnd.random() < 0.08:
        return rnd.choice(("1/4 in", "5-1/4 in", "5 1/4 in", "1/2in", "3/16 in"))
    # `4.mm` would read as a dotted name glued to a number
    return said + (unit if not said.endswith(".") or unit.startswith(" ") else "")


SMALL = {"near", "far", "centre", "about", "inside", "outside", "made", "not", "worn", "by", "wanted"}


def number(rnd: Random, depth: int = 0) -> str:
    """A number, a sum, a sign, a bracket, or another statement's size."""
    pick = rnd.random()
    if depth > 3 or pick < 0.6:
        return plain(rnd)
    if pick < 0.68:
        # a small word is taken as that where it may stand, so it can't begin a value as a name there
        said = name(rnd)
        return plain(rnd) if said in SMALL else said
    if pick < 0.74:
        return f"{name(rnd)}.{rnd.choice(('across', 'long', 'wide', 'thick', 'deep', 'across.read'))}"
    if pick < 0.80:
        return f"({number(rnd, depth + 1)})"
    if pick < 0.84:
        return f"-{rnd.choice(('4', '2.5', '(3)', 'gap'))}"
    return f"{number(rnd, depth + 1)} {rnd.choice('+-*/')} {number(rnd, depth + 1)}"


def reading(rnd: Random) -> str:
    """One reading: perhaps `about`, perhaps with its give-or-take, perhaps with a condition."""
    said = ("about " if rnd.random() < 0.1 else "") + number(rnd)
    if rnd.random() < 0.15:
        said += rnd.choice((" +-0.05", " +- 0.1", " ±0.02", " ± 0.1", "+-0.3"))
    if rnd.random() < 0.1:
        said += " " + rnd.choice(CONDITIONS)
    return said


def _listed(rnd: Random, make: object, most: int = 4) -> str:
    return rnd.choice((", ", " , ", ",  ")).join(make(rnd) for _ in range(rnd.randint(1, most)))  # type: ignore[operator]


def _size(rnd: Random, most: int) -> str:
    said = _listed(rnd, reading, most)
    pick = rnd.random()
    return said + (f" made {reading(rnd)}" if pick < 0.2 else " wanted" if pick < 0.3 else "")


def _number(slot: Slot, rnd: Random) -> str:
    """What may fill a slot that holds a number: one reading, some, or a size."""
    rule = slot.type.rule
    assert rule is not None
    if rule.made:
        return _size(rnd, 1 if slot.single else 3)
    return _listed(rnd, reading, 3 if rule.several and not slot.single else 1)


def _stop(rnd: Random) -> str:
    return rnd.choice(("", "", "inside ", "into ")) + thing(rnd)


def _phrase(rnd: Random) -> str:
    return elements(rnd.choice(group("laid")).elements, rnd)


SLOTS = {
    "name": name,
    "thing": thing,
    "things": lambda rnd: _listed(rnd, thing),
    "stops": lambda rnd: _listed(rnd, _stop, 6),
    "mate": lambda rnd: rnd.choice((thing, plain))(
        rnd
    ),  # a sum that begins with a name is read as that thing
    "screw": lambda rnd: rnd.choice(("M3", "M4", "M2.5", "m6", "M99", "M4x20")),
    "text": lambda rnd: f'"{rnd.choice(TEXTS)}"',
    "word": lambda rnd: rnd.choice(("PETG", "ASA", "left", "top", "down", "bottom", "nylon")),
    "give": lambda rnd: rnd.choice(("+-0.05", "+- 0.1", "±0.02")),
    "phrases": lambda rnd: _listed(rnd, _phrase),
}


def elements(some: tuple[Element, ...], rnd: Random) -> str:
    """A line that has the shape of these elements."""
    said: list[str] = []
    for one in some:
        if isinstance(one, Optional):
            if rnd.random() < 0.5:
                said.append(elements(one.elements, rnd))
        elif isinstance(one, Slot):
            number_in = one.type.fill == "number"
            said.append(_number(one, rnd) if number_in else SLOTS[one.type.fill](rnd))
        elif isinstance(one, Sign):
            said.append(one.mark)
        else:
            assert isinstance(one, Small)
            said.append(rnd.choice(one.words))
    return " ".join(word for word in said if word)


def line(shape: Shape, rnd: Random) -> str:
    """A line of one shape of the table, its blanks and its comment as people type them."""
    said = elements(shape.elements, rnd)
    if rnd.random() < 0.15:
        said += rnd.choice(("  # as read", " #", '   # "quoted" # twice', "\t# tab"))
    return said


def statement(kind: Kind, rnd: Random, facts: int = 6) -> list[str]:
    """The lines of a statement of a kind with facts of its shapes, comments and blank lines between them."""
    lines = [line(kind.head, rnd)]
    indent = rnd.choice(("    ", "  ", "\t", " "))
    for _ in range(rnd.randint(0, facts) if kind.facts else 0):
        lines.append(indent + line(rnd.choice(kind.facts), rnd))
        if rnd.random() < 0.1:
            lines.append(rnd.choice(("", "# alone", indent + "# alone, indented", "   ", "#")))
    return lines


def recipe(rnd: Random, statements: int = 8) -> str:
    """A text in which every line has a shape of the table, and which hardly ever makes sense as a part."""
    lines = ['recipe "nonsense"']
    every = list(kinds().values())
    for _ in range(rnd.randint(1, statements)):
        lines += statement(rnd.choice(every), rnd)
        if rnd.random() < 0.5:
            lines.append("")
    return "\n".join(lines) + rnd.choice(("\n", "", "\n\n"))
