"""Recipes that must compile: parts laid out first, then read as a person would read them, so that a place always solves.

A fact is kept with its lengths in braces (`from pivot near {4.95}`), so that one recipe can be written in millimetres or
in inches, in any order of lines.  What is known beforehand is kept beside it: places, openings, round sizes.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from random import Random

from . import words

XY = tuple[float, float]
_LENGTH = re.compile(r"\{([^}]*)\}")
# `front`, `back` and `all` speak of parts of a body and a screw is no name to give away; every other word is free.
NAMES = tuple(one for one in words.NAMES if one not in ("all", "M4")) + ("mm", "in", "deg", "wanted", "overall", "to", "N")
HOLLOW = {"hex": 2 / math.sqrt(3), "square": math.sqrt(2)}


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
    """A round thing (or point, r = 0) whose place is known: its radius as read, -1 where no edge of it was read."""

    name: str
    at: XY
    r: float = 0.0


@dataclass
class Recipe:
    """Statements, and what is known of the part: places on the sheet, openings, diameters of round holes and pegs."""

    statements: list[Statement] = field(default_factory=list)
    places: dict[str, XY] = field(default_factory=dict)
    rounds: dict[str, float] = field(default_factory=dict)
    pegs: dict[str, float] = field(default_factory=dict)
    turnings: dict[str, float] = field(default_factory=dict)
    genus: int | None = None
    thickens: list[Statement] = field(default_factory=list)
    cuts: list[Statement] = field(default_factory=list)
    taken: set[str] = field(default_factory=set)

    def text(self, rnd: Random | None = None, write: object = mm, more: tuple[Statement, ...] = (), hand: bool = False) -> str:
        """The recipe as text; with `rnd` its statements and facts in another order."""
        some = [*self.statements, *more]
        if rnd is not None:
            some = [Statement(one.kind, one.name, rnd.sample(one.facts, len(one.facts)), one.head) for one in some]
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
    facts = ["readings +-{0.05}", "plastic PETG", 'fits "shed door"', 'broke "snapped; read in two halves"', 'licence "CC0-1.0"']
    made.statements.append(Statement("recipe", "", rnd.sample(facts, rnd.randint(0, len(facts))), 'recipe "spare no. 1"'))
    return made


def size(made: Recipe, value: float, rnd: Random) -> str:
    """A length as a plain number, a sum, or a sum with a `let` of its own."""
    pick = rnd.random()
    if pick < 0.8:
        return f"{{{value}}}"
    part = round(value * rnd.choice((0.25, 0.5)), 3)
    if pick < 0.9:
        return f"{{{part}}} + {{{value - part}}}"
    let = made.name(rnd)
    made.statements.append(Statement("let", let, [], f"let {let} = {{{part}}}"))
    return f"{{{value + 2 * part}}} - 2 * {let}"


# -- reading a place ---------------------------------------------------------------------------------------------------


def _edges(one: Placed, other: Placed, distance: float, rnd: Random) -> str:
    """`near-far 12.3`: a distance between two things to edges that both have."""
    mine, theirs = (rnd.choice(("near", "far")) if thing.r else "" for thing in (one, other))
    if not mine and not theirs:
        return f"{{{distance}}}"
    if rnd.random() < 0.2 or min(one.r, other.r) < 0:
        return f"{rnd.choice(('centre', 'centres'))} {{{distance}}}"
    value = distance + sum({"near": -r, "far": r, "": 0.0}[word] for word, r in ((mine, one.r), (theirs, other.r)))
    if value < 0.5:
        return f"centre {{{distance}}}"
    return f"{mine}{'-' if mine and theirs else ''}{theirs} {{{value}}}"


def _apart(a: XY, b: XY) -> float:
    return math.hypot(a[0] - b[0], a[1] - b[1])


def _mirrored(at: XY, a: XY, b: XY) -> XY:
    way = ((b[0] - a[0]) / _apart(a, b), (b[1] - a[1]) / _apart(a, b))
    share = (at[0] - a[0]) * way[0] + (at[1] - a[1]) * way[1]
    foot = (a[0] + share * way[0], a[1] + share * way[1])
    return (2 * foot[0] - at[0], 2 * foot[1] - at[1])


def _side_word(at: XY, wrong: XY, known: list[Placed]) -> str | None:
    """A side word that is true of a place and false of the wrong one."""
    for other in known:
        x, y = other.at
        for word, sign, axis in (("right of", 1, 0), ("left of", -1, 0), ("above", 1, 1), ("below", -1, 1)):
            centre = (x, y)[axis]
            if sign * (at[axis] - centre) > 1.0 and sign * (wrong[axis] - centre) < -1.0:
                return f"{word} {other.name}"
    return None


def read(one: Placed, known: list[Placed], rnd: Random) -> list[str]:
    """Facts that place a thing among those already placed; the first is put at a place of the sheet."""
    x, y = one.at
    if not known:
        return [f"at {{{x}}}, {{{y}}}"]
    for _ in range(6):
        facts = rnd.choice((_by_shift, _by_two, _by_two, _by_two, _by_level, _by_angle))(one, known, rnd)
        if facts:
            return facts
    return [f"at {{{x}}}, {{{y}}}"]


def _by_shift(one: Placed, known: list[Placed], rnd: Random) -> list[str]:
    other = rnd.choice(known)
    return [f"at {{{one.at[0] - other.at[0]}}}, {{{one.at[1] - other.at[1]}}} from {other.name}"]


def _by_two(one: Placed, known: list[Placed], rnd: Random) -> list[str]:
    if len(known) < 2:
        return []
    a, b = rnd.sample(known, 2)
    base = _apart(a.at, b.at)
    if base < 4.0 or min(_apart(one.at, a.at), _apart(one.at, b.at)) < 2.0:
        return []
    wrong = _mirrored(one.at, a.at, b.at)
    if _apart(wrong, one.at) < 6.0:
        return []
    word = _side_word(one.at, wrong, known) or f"roughly {{{round(one.at[0])}}}, {{{round(one.at[1])}}}"
    facts = [f"from {other.name} {_edges(one, other, _apart(one.at, other.at), rnd)}" for other in (a, b)]
    if len(known) > 2 and rnd.random() < 0.3:
        third = rnd.choice([other for other in known if other not in (a, b)])
        if _apart(one.at, third.at) > 2.0:
            facts.append(f"from {third.name} {_edges(one, third, _apart(one.at, third.at), rnd)}")
    return [*facts, word]


def _by_level(one: Placed, known: list[Placed], rnd: Random) -> list[str]:
    """Level or plumb with one thing (where it is), and a distance."""
    for other in rnd.sample(known, len(known)):
        dx, dy = one.at[0] - other.at[0], one.at[1] - other.at[1]
        if dy == 0.0 and abs(dx) > 2.0:
            words_ = ("level with", "right of" if dx > 0 else "left of")
        elif dx == 0.0 and abs(dy) > 2.0:
            words_ = ("plumb with", "above" if dy > 0 else "below")
        else:
            continue
        distance = _edges(one, other, abs(dx + dy), rnd)
        return [f"{words_[0]} {other.name}", f"{words_[1]} {other.name}", f"from {other.name} {distance}"]
    return []


def _by_angle(one: Placed, known: list[Placed], rnd: Random) -> list[str]:
    other = rnd.choice(known)
    distance = _apart(one.at, other.at)
    if distance < 2.0:
        return []
    angle = math.degrees(math.atan2(one.at[1] - other.at[1], one.at[0] - other.at[0]))
    return [f"angle {angle:.12f} from {other.name}", f"from {other.name} {_edges(one, other, distance, rnd)}"]


# -- holes -------------------------------------------------------------------------------------------------------------


def hole_size(made: Recipe, name: str, across: float, rnd: Random) -> tuple[list[str], float]:
    """Size facts of a bore of about a diameter, and its radius as read (-1: never read)."""
    pick = rnd.choice(("drill", "drill", "across", "made", "clears", "bites", "turns on", "read and fit", "hex", "square", "flat"))
    r = 0.5 * across
    if pick == "drill":
        made.rounds[name] = across
        return [f"drill {{{across}}} not {{{across + 0.1}}}" if rnd.random() < 0.7 else f"drill {{{across}}}"], r
    if pick == "across":
        made.rounds[name] = across
        return [f"across {size(made, across, rnd)}"], r
    if pick == "made":
        made.rounds[name] = across
        return [f"across {{{across - 0.4}}}, {{{across - 0.4}}} worn made {{{across}}}"], r - 0.2
    if pick == "clears":
        return [rnd.choice(("clears M3", "clears M2.5 fine", f"clears {{{across}}}"))], -1.0
    if pick == "bites":
        return ["bites M3"], -1.0
    if pick == "turns on":
        return [f"{rnd.choice(('turns on', 'slides on', 'pushes on', 'press on', 'stretches on'))} {{{across}}}"], -1.0
    if pick == "read and fit":
        return [f"across {{{across}}}", f"turns on {{{across - 0.2}}}"], r
    if pick == "flat":
        return [f"across {{{across}}}", f"flat {{{0.8 * across}}} facing {rnd.choice(('left', 'right', 'top', 'bottom'))}"], r
    return [f"{pick} {{{round(across / HOLLOW[pick], 3)}}}",
            f"turned {rnd.choice((0, 15, 30, 45))}" if rnd.random() < 0.3 else ""], -1.0  # fmt: skip


def _bore_depth(body: str, thick: float, rnd: Random, across: float) -> tuple[list[str], int]:
    """How a bore goes through a body, and 1 where it opens at both ends."""
    pick = rnd.random()
    if pick < 0.5:
        return [], 1
    if pick < 0.7:
        return [f"deep {{{round(0.6 * thick, 3)}}} from {body}.{rnd.choice(('front', 'back'))}"], 0
    if pick < 0.8:
        return [f"counterbore {{{across + 1.5}}} deep {{{round(0.3 * thick, 3)}}} at {body}.{rnd.choice(('front', 'back'))}"], 1
    if pick < 0.9:
        return [f"countersink {{{across + 0.8}}} at {rnd.choice((body + '.front', body + '.back', 'front'))}"], 1
    return [f"through {body}"], 1


# -- parts -------------------------------------------------------------------------------------------------------------


def _layout(rnd: Random, count: int, pitch: float) -> list[XY]:
    """Places well apart: squares of a grid, each place somewhere in the middle of its square or right in it."""
    squares = rnd.sample([(i, j) for i in range(4) for j in range(3)], count)
    ease = 0.15 * pitch
    return [(round(i * pitch + rnd.choice((0.0, rnd.uniform(-ease, ease))), 3),
             round(j * pitch + rnd.choice((0.0, rnd.uniform(-ease, ease))), 3)) for i, j in squares]  # fmt: skip


def plate(rnd: Random) -> Recipe:
    """A plate: bores at known places, ends round them, and an outline over these."""
    made = begun(rnd)
    body, pitch, thick = made.name(rnd), rnd.choice((18.0, 22.0, 30.0)), rnd.choice((3.0, 4.2, 6.0, 8.5))
    known: list[Placed] = []
    ends: list[tuple[str, XY, float]] = []
    openings = 0
    for at in _layout(rnd, rnd.randint(1, 5), pitch):
        name, across = made.name(rnd), round(rnd.uniform(2.6, 5.0), 1)
        facts, r = hole_size(made, name, across, rnd)
        one = Placed(name, at, r)
        depth, opens = _bore_depth(body, thick, rnd, across)
        if any("hex" in fact or "square" in fact or "flat" in fact or "clears" in fact or " on " in fact for fact in facts):
            depth, opens = [fact for fact in depth if "sink" not in fact and "counter" not in fact], opens
        made.add("bore", rnd, *facts, *depth, *read(one, known, rnd), name=name)
        known.append(one)
        made.places[name] = at
        openings += opens
        end = made.name(rnd)
        wide = rnd.choice((11.0, 12.0, 13.5))
        made.add("round", rnd, f"around {name}", f"across {size(made, wide, rnd)}", name=end)
        ends.append((end, at, wide))
        made.places[end] = at
        _zones(made, body, name, wide, thick, rnd)
    outline = _outline(made, ends, rnd)
    made.add("plate", rnd, f"thick {size(made, thick, rnd)}", *outline, name=body)
    made.genus = openings if len(ends) < 2 or not outline[0].startswith("merge") else None
    hole = made.name(rnd)
    made.cuts.append(Statement("bore", hole, [f"at {{0.3}}, {{0.2}} from {ends[0][0]}", "across {5.6}", f"through {body}"]))
    return made


def _zones(made: Recipe, body: str, bore: str, wide: float, thick: float, rnd: Random) -> None:
    ramp = [f"ramp {{{rnd.choice((0.5, 1.0))}}}"] if rnd.random() < 0.5 else []
    face = rnd.choice((f"{body}.front", f"{body}.back", body))
    where = f"collar {bore} to {{{wide - rnd.choice((0.0, 1.0, -4.0))}}} overall"
    more = rnd.choice((f"by {{{rnd.choice((0.8, 2.0))}}}", f"to {{{thick + 3.0}}} overall"))
    made.thickens.append(Statement("thicken", made.name(rnd), [f"on {face}", where, more, *ramp]))
    less = rnd.choice((f"by {{{round(0.2 * thick, 3)}}}", f"to {{{round(0.7 * thick, 3)}}} overall"))
    made.cuts.append(Statement("relieve", made.name(rnd), [f"on {face}", where, less, *ramp]))


def _outline(made: Recipe, ends: list[tuple[str, XY, float]], rnd: Random) -> list[str]:
    names = [name for name, _, _ in ends]
    if len(ends) == 1:
        return [f"merge {names[0]}"]
    pick = rnd.choice(("belt", "belt", "chain", "merge", "outline"))
    if pick == "merge":
        bars = [made.add("web", rnd, f"joins {a}, {b}", f"wide {{{rnd.choice((5.0, 8.0))}}}").name
                for a, b in zip(names, names[1:], strict=False)]  # fmt: skip
        some = [*names, *bars]
        rnd.shuffle(some)
        return ["merge " + ", ".join(some)]
    if pick == "chain":
        return ["chain " + ", ".join(name for name, _, _ in sorted(ends, key=lambda one: one[1]))]
    edge = [f"bevel {{{rnd.choice((0.4, 0.8))}}} at {rnd.choice(('front', 'back', 'both'))}"] if rnd.random() < 0.3 else []
    grown = rnd.choice(("", "", f"grow {{{rnd.choice((0.5, 2.0))}}}", "shrink {0.5}"))
    if pick == "outline" and len(ends) > 2:
        places = [(at, name) for name, at, _ in ends]
        hull = _hull(places, 5.0)
        if len(hull) > 2 and hull == _hull(places, 0.0):
            start = rnd.randrange(len(hull))
            walk = hull[start:] + hull[:start]
            return ["outline " + ", ".join(walk if rnd.random() < 0.5 else walk[::-1]), grown]
    rnd.shuffle(names)
    return ["belt " + ", ".join(names), *edge, grown]


def _hull(places: list[tuple[XY, str]], clear: float) -> list[str]:
    """Names on the convex hull, anticlockwise (monotone chain); corners that stand out by less than `clear` left out."""

    def half(some: list[tuple[XY, str]]) -> list[tuple[XY, str]]:
        kept: list[tuple[XY, str]] = []
        for at, name in some:
            while len(kept) > 1 and ((kept[-1][0][0] - kept[-2][0][0]) * (at[1] - kept[-2][0][1])
                                     - (kept[-1][0][1] - kept[-2][0][1]) * (at[0] - kept[-2][0][0])) <= clear * _apart(at, kept[-2][0]):  # fmt: skip
                kept.pop()
            kept.append((at, name))
        return kept

    places = sorted(places)
    return [name for _, name in half(places)[:-1] + half(places[::-1])[:-1]]


def block(rnd: Random) -> Recipe:
    """A base block in squares of 14 mm, each with one thing on it or in it, a wall along its top edge, and side bores."""
    made = begun(rnd)
    body, thick, pitch = made.name(rnd), rnd.choice((4.0, 5.5, 7.0)), 14.0
    columns, rows = rnd.randint(2, 4), rnd.randint(1, 3)
    long, wide = columns * pitch, rows * pitch + 8.0
    edge = rnd.choice(("", "", "round outside {2}", "bevel {0.6} at back"))
    made.add("block", rnd, f"long {size(made, long, rnd)}", f"wide {size(made, wide, rnd)}", f"thick {{{thick}}}", edge, name=body)
    made.genus = 0
    squares = [(i, j) for i in range(columns) for j in range(rows)]
    for i, j in rnd.sample(squares, rnd.randint(1, len(squares))):
        at = ((i + 0.5) * pitch, (j + 0.5) * pitch)
        rnd.choice((_bore_in, _bore_in, _slot_in, _notch_in, _peg_on, _block_on, _turning_on))(made, body, at, thick, (long, wide), rnd)
    if rnd.random() < 0.5:
        _wall(made, body, (long, wide), rnd)
    if rnd.random() < 0.4:
        _side_bore(made, body, (long, wide), thick, rnd)
    middle = made.name(rnd)
    made.thickens.append(Statement("rectangle", middle, [f"long {{{0.5 * long}}}", f"wide {{{0.5 * wide}}}",
                                                         f"midway {body}.left, {body}.right", f"midway {body}.bottom, {body}.top"]))
    for kind, much in (("thicken", "by {1.5}"), ("relieve", f"by {{{round(0.1 * thick, 3)}}}")):
        some = made.thickens if kind == "thicken" else made.cuts
        some.append(Statement(kind, made.name(rnd), [f"on {body}.back", f"inside {middle}", much, rnd.choice(("ramp {0.4}", ""))]))
        some[-1].facts = [one for one in some[-1].facts if one]
    return made


def _from_sides(body: str, at: XY, r: XY, whole: XY, rnd: Random) -> list[str]:
    """Readings from two sides of a block to the edges of a thing with half-sizes r; (0, 0): to its centre only."""
    facts = []
    for axis, sides in ((0, ("left", "right")), (1, ("bottom", "top"))):
        side = rnd.choice(sides)
        distance = at[axis] if side == sides[0] else whole[axis] - at[axis]
        word = rnd.choice(("near", "far", "centre")) if r[axis] > 0 else "centre"
        facts.append(f"from {body}.{side} {word} {{{distance + {'near': -1, 'far': 1, 'centre': 0}[word] * r[axis]}}}")
    return facts


def _bore_in(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    name, across = made.name(rnd), round(rnd.uniform(2.0, 5.0), 1)
    facts, r = hole_size(made, name, across, rnd)
    depth, opens = _bore_depth(body, thick, rnd, across)
    if name not in made.rounds:
        depth = [one for one in depth if "counter" not in one]
    depth = depth or [rnd.choice((f"on {body}.front", f"through {body}"))]
    made.add("bore", rnd, *facts, *depth, *_from_sides(body, at, (r, r), whole, rnd), name=name)
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])
    made.genus = (made.genus or 0) + opens
    made.cuts.append(Statement("bore", made.name(rnd), [f"at {{0.2}}, {{0.4}} from {name}", "across {7.0}", f"through {body}"]))


def _slot_in(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    wide, long = rnd.choice((2.0, 3.1)), rnd.choice((5.0, 8.0))
    way = rnd.choice(("", "level", "upright", f"along {body}.left", f"square to {body}.left", "turned 30"))
    depth = rnd.choice(([f"through {body}"], [f"deep {{{0.5 * thick}}} from {body}.front"]))
    wideness = rnd.choice((f"wide {{{wide}}}", f"drill {{{wide}}} not {{{wide + 0.1}}}"))
    name = made.add("slot", rnd, wideness, f"long {{{long}}}", way, *depth, rnd.choice(("", "", "square ends")),
                    *_from_sides(body, at, (0, 0), whole, rnd)).name  # fmt: skip
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])
    made.genus = (made.genus or 0) + depth[0].startswith("through")


def _notch_in(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    long, high = rnd.choice((4.0, 7.0)), rnd.choice((3.0, 6.0))
    depth = rnd.choice(([f"through {body}"], [f"on {body}.front", f"deep {{{0.5 * thick}}}"]))
    name = made.add("notch", rnd, f"long {{{long}}}", f"high {{{high}}}", *depth, rnd.choice(("", "round inside {0.8}")),
                    *_from_sides(body, at, (0.5 * long, 0.5 * high), whole, rnd)).name  # fmt: skip
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])
    made.genus = (made.genus or 0) + depth[0].startswith("through")


def _peg_on(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    name, across = made.name(rnd), rnd.choice((3.0, 5.2, 8.0))
    form = rnd.choice(("across", "across", "hex", "square"))
    if form == "across":
        made.pegs[name] = across
    r = 0.5 * across if form == "across" else 0.0
    made.add("peg", rnd, f"on {body}.front", f"{form} {{{across}}}", f"high {{{rnd.choice((2.0, 6.0, 11.5))}}}",
             rnd.choice(("", "bevel {0.4} at tip", "bevel {0.5}")), *_from_sides(body, at, (r, r), whole, rnd), name=name)  # fmt: skip
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])


def _block_on(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    long, wide, high = rnd.choice((4.0, 9.0)), rnd.choice((3.0, 8.0)), rnd.choice((1.2, 5.0))
    name = made.add("block", rnd, f"on {body}.front", f"long {{{long}}}", f"wide {{{wide}}}", f"high {{{high}}}",
                    rnd.choice(("", "round outside {0.8}")), *_from_sides(body, at, (0.5 * long, 0.5 * wide), whole, rnd)).name  # fmt: skip
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])
    if rnd.random() < 0.3:
        made.add("rim", rnd, f"on {name}.front", "thick {0.8}", "high {1.5}", rnd.choice(("", "inset {0.3}")))


def _turning_on(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    name = made.name(rnd)
    made.turnings[name] = 9.0
    made.add("turning", rnd, f"on {body}.front", "across {9} from 0 to {3}", "across {6} from {3} to {7}",
             rnd.choice(("", "bored {3} from {2} to {7}", "groove {5} from {4} to {5}")), *_from_sides(body, at, (0, 0), whole, rnd),
             name=name)  # fmt: skip
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])


def _wall(made: Recipe, body: str, whole: XY, rnd: Random) -> None:
    """A wall that stands on the base along its top edge, with a fillet or a rib in the corner where it is free."""
    high = rnd.choice((10.0, 18.0))
    name = made.add("block", rnd, f"on {body}.front", f"long {{{whole[0]}}}", "wide {3}", f"high {{{high}}}",
                    f"flush with {body}.top", f"midway {body}.left, {body}.right").name  # fmt: skip
    pick = rnd.random()
    if pick < 0.4:
        made.add("fillet", rnd, f"between {body}.front, {name}.bottom", "radius {1.5}")
    elif pick < 0.8:
        place = rnd.choice((f"flush with {body}.left", f"midway {body}.left, {body}.right", f"from {body}.right near {{4}}"))
        made.add("rib", rnd, f"between {body}.front, {name}.bottom", "thick {2}", f"reach {{4}} along {body}.front",
                 f"reach {{6}} along {name}.bottom", place)  # fmt: skip


def _side_bore(made: Recipe, body: str, whole: XY, thick: float, rnd: Random) -> None:
    """A blind bore in a side of the base, read on that side's own page."""
    side = rnd.choice(("left", "right", "bottom"))
    page_long = whole[0] if side == "bottom" else whole[1]
    name = made.name(rnd)
    made.rounds[name] = 1.6
    sides = ("left", "right") if side == "bottom" else ("bottom", "top")
    made.add("bore", rnd, f"on {body}.{side}", "across {1.6}", "deep {3}", f"from {body}.back centre {{{0.5 * thick}}}",
             f"from {body}.{rnd.choice(sides)} far {{{0.5 * page_long + 0.8}}}", name=name)  # fmt: skip


def turning(rnd: Random) -> Recipe:
    """A turned part: stations one behind the other, perhaps bored, grooved, bevelled, with holes round its axis."""
    made = begun(rnd)
    body, at = made.name(rnd), 0.0
    facts = []
    widest = 0.0
    for number in range(rnd.randint(1, 4)):
        across, length = rnd.choice((20.0, 24.5, 31.0)), rnd.choice((2.0, 5.0, 8.0))
        widest = max(widest, across)
        if rnd.random() < 0.25:
            facts.append(f"taper {{{across}}} at {{{at}}}, {{{across - 2.0}}} at {{{at + length}}}")
        else:
            facts.append(f"across {{{across}}} from {{{at}}} to {{{at + length}}}")
        if length == 8.0 and rnd.random() < 0.5:
            facts.append(f"groove {{17}} from {{{at + 2}}} to {{{at + 4}}}")
        if number == 0 and rnd.random() < 0.4:
            facts.append("bevel {0.6} at 0")
        at += length
    pick, bored = rnd.random(), 0.0
    if pick < 0.3:
        bored = 12.0
        facts.append(f"bored {{12}} from {{{round(0.4 * at, 3)}}} to {{{at}}}")
    elif pick < 0.45:
        bored = 12.0
        facts.append(f"bored taper {{10}} at {{{round(0.4 * at, 3)}}}, {{12}} at {{{at}}}")
    made.add("turning", rnd, *facts, name=body)
    made.turnings[body] = widest
    made.genus = 0
    if rnd.random() < 0.7:
        name = made.name(rnd)
        size_, _ = hole_size(made, name, rnd.choice((3.0, 4.0, 6.1)), rnd)
        made.add("bore", rnd, f"around {body}", *size_, name=name)
        made.genus += 1
        made.places[name] = (0.0, 0.0)
    if not bored and rnd.random() < 0.5:
        _ringed(made, body, 6.3, rnd)
    made.places[body] = (0.0, 0.0)
    made.cuts.append(Statement("bore", made.name(rnd), [f"around {body}", "across {7.5}"]))
    return made


def _ringed(made: Recipe, body: str, away: float, rnd: Random) -> None:
    name = made.name(rnd)
    made.rounds[name] = 1.6
    angle = rnd.choice((0, 30, 90))
    place = f"at {{{away}}}, {{0}} from {body}" if angle == 0 else None
    made.add("bore", rnd, *([place] if place else [f"angle {angle} from {body}", f"from {body} centre {{{away}}}"]),
             "across {1.6}", f"through {body}", name=name)  # fmt: skip
    count = rnd.choice((2, 3, 5, 6))
    made.add("ring", rnd, f"of {name}", f"count {count}", f"about {body}", rnd.choice(("", "over 200")))
    made.genus = (made.genus or 0) + count


def strip(rnd: Random) -> Recipe:
    """A strip bent along points whose neighbours meet at blunt or right angles, with a hole near its start."""
    made = begun(rnd)
    body, thick = made.name(rnd), rnd.choice((2.0, 3.0))
    at, heading = (0.0, 0.0), 0.0
    known: list[Placed] = []
    for _ in range(rnd.randint(2, 4)):
        one = Placed(made.name(rnd), (round(at[0], 6), round(at[1], 6)))
        made.add("point", rnd, *read(one, known, rnd), name=one.name)
        made.places[one.name] = one.at
        known.append(one)
        at = (at[0] + 25.0 * math.cos(heading), at[1] + 25.0 * math.sin(heading))
        heading += math.radians(rnd.choice((90, 60, 40, -30)))
    side = rnd.choice(("", "outside on path", "inside on path", "middle on path"))
    made.add("strip", rnd, f"thick {{{thick}}}", f"wide {size(made, 12.0, rnd)}", "path " + ", ".join(one.name for one in known),
             side, rnd.choice(("", "turns inside {4}")) if len(known) > 2 else "", name=body)  # fmt: skip
    made.genus = 0
    return made


def patterned(rnd: Random) -> Recipe:
    """A block with a row, grid or mirror of a hole, slot or peg."""
    made = begun(rnd)
    body = made.name(rnd)
    made.add("block", rnd, "long {60}", "wide {40}", "thick {4}", name=body)
    made.genus = 0
    kind = rnd.choice(("bore", "slot", "peg"))
    facts = {"bore": ["across {3.2}", rnd.choice((f"through {body}", f"deep {{2}} from {body}.front"))],
             "slot": ["wide {2}", "long {5}", "upright", f"through {body}"],
             "peg": ["across {3.2}", "high {5}", f"on {body}.front"]}[kind]  # fmt: skip
    name = made.add(kind, rnd, *facts, f"from {body}.left centre {{8}}", f"from {body}.bottom centre {{7}}").name
    if kind != "slot":
        (made.rounds if kind == "bore" else made.pegs)[name] = 3.2
    pick = rnd.choice(("row", "grid", "mirror"))
    count = rnd.randint(2, 4)
    if pick == "row":
        made.add("row", rnd, f"of {name}", f"count {count}", "pitch {8.5}", rnd.choice(("", "upright", "angle 20", f"along {body}.top")))
    elif pick == "grid":
        made.add("grid", rnd, f"of {name}", f"count {count}, 3", "pitch {11}, {9.5}")
        count *= 3
    else:
        line = made.add("line", rnd, f"midway {body}.left, {body}.right").name
        made.add("mirror", rnd, f"of {name}", f"about {line}")
        count = 2
    if not (kind == "peg" or any("deep" in one for one in facts)):
        made.genus = count
    made.cuts.append(Statement("bore", made.name(rnd), [f"from {body}.right far {{8}}", f"from {body}.top near {{5}}", "across {3}",
                                                        f"through {body}"]))  # fmt: skip
    return made


PARTS = (plate, plate, block, block, turning, strip, patterned)


def recipe(rnd: Random) -> Recipe:
    """A recipe of any kind of part, perhaps with zones and more holes of those it has in store."""
    return rnd.choice(PARTS)(rnd)
