"""What stands on a block or is let into it, a square of 14 mm for each: marks, arms, shaped pegs and bores,
gears.
"""

from __future__ import annotations

from random import Random

from .writing import XY, Recipe, Statement, begun, size

FACING = ("left", "right", "top", "bottom")
PITCH = 14.0


def crowded(rnd: Random) -> Recipe:
    """A base block in squares, each with one of the kinds of this file, and one more thing on a side of
    it.
    """
    made = begun(rnd)
    body, thick = made.name(rnd), rnd.choice((4.0, 5.5, 7.0))
    columns, rows = rnd.randint(2, 4), rnd.randint(1, 3)
    long, wide = columns * PITCH, rows * PITCH
    springs = rnd.choice(("", "", "springs {0.4} over {20}", "springs {0.4} over {20} thick {2}"))
    made.add(
        "block",
        rnd,
        f"long {size(made, long, rnd)}",
        f"wide {{{wide}}}",
        f"thick {{{thick}}}",
        springs,
        name=body,
    )
    made.genus = 0
    squares = [(i, j) for i in range(columns) for j in range(rows)]
    for i, j in rnd.sample(squares, rnd.randint(1, len(squares))):
        at = ((i + 0.5) * PITCH, (j + 0.5) * PITCH)
        rnd.choice((_mark, _arm, _peg, _bore, _bore, _notch, _slot, _gear))(
            made, body, at, thick, (long, wide), rnd
        )
    if rnd.random() < 0.6:
        rnd.choice((_side_mark, _side_arm, _side_peg, _side_notch))(made, body, thick, rnd)
    made.cuts.append(
        Statement(
            "notch",
            made.name(rnd),
            [f"on {body}.front", "long {5}", "wide {3}", "deep {1}", f"at 0, 0 from {body}"],
        )
    )
    return made


def _at(body: str, at: XY, whole: XY, rnd: Random) -> list[str]:
    """Its middle from two sides of the base."""
    facts = []
    for axis, sides in ((0, ("left", "right")), (1, ("bottom", "top"))):
        side = rnd.choice(sides)
        facts.append(
            f"from {body}.{side} centre {{{at[axis] if side == sides[0] else whole[axis] - at[axis]}}}"
        )
    return facts


def _flat(rnd: Random) -> str:
    return rnd.choice(("front", "front", "back"))


def _place(made: Recipe, name: str, at: XY, whole: XY) -> None:
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])


def _inked(rnd: Random) -> str:
    return rnd.choice(('says "A2"', 'says "8"', 'says "%"', 'says "ö"', 'says "i"', "arrow"))


def _mark(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    made.add(
        "mark",
        rnd,
        f"on {body}.{_flat(rnd)}",
        _inked(rnd),
        f"high {{{rnd.choice((4.0, 6.0))}}}",
        rnd.choice(("raised {0.6}", "sunk {0.5}")),
        rnd.choice(("", "turned 90", "turned 30")),
        *_at(body, at, whole, rnd),
    )


def _arm(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    made.add("arm", rnd, f"on {body}.{_flat(rnd)}", *_arm_sizes(rnd), *_at(body, at, whole, rnd))


def _arm_sizes(rnd: Random) -> list[str]:
    return [
        "long {9}",
        f"wide {{{rnd.choice((3.0, 5.5))}}}",
        "thick {2}",
        rnd.choice(("", "tip {1.2}", "tip {2}")),
        f"nose {{{rnd.choice((0.6, 1.2))}}} facing {rnd.choice(FACING)}",
        rnd.choice(("", "lead 30", "lead 65")),
        rnd.choice(("", "return 45", "return 90", "return 20")),
        rnd.choice(("", "fillet {0.8}")),
    ]


def _peg(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    name, across = made.name(rnd), rnd.choice((5.0, 8.0))
    pick = rnd.choice(("serrated", "splines", "flat", "fit", "read", "hex", "square", "same"))
    bevel = rnd.choice(("", "bevel {0.4} at tip", "bevel {0.4} at foot", "bevel {0.3} at both"))
    facts = [f"across {{{across}}}"]
    if pick in ("serrated", "splines"):
        facts.append(f"{pick} {rnd.choice((5, 12))} deep {{0.5}}")
        bevel = ""
    elif pick == "flat":
        way = rnd.choice(("", " facing left", " facing top", " facing bottom"))
        facts += [f"{rnd.choice(('flat', 'flats'))} {{{0.8 * across}}}{way}"]
    elif pick == "fit":
        mate = _neighbour(made, across, rnd)
        facts = [f"{rnd.choice(('turns on', 'slides on', 'pushes on', 'press on', 'stretches on'))} {mate}"]
    elif pick == "read":
        facts.append("as read")
    elif pick == "same":
        facts = [f"same as {_neighbour(made, across, rnd)}"]
    elif pick in ("hex", "square"):
        facts = [f"{pick} {{{0.8 * across}}}", rnd.choice(("", "turned 20"))]
    if pick not in ("hex", "square", "fit", "same"):
        made.pegs[name] = across
    made.add(
        "peg",
        rnd,
        f"on {body}.{_flat(rnd)}",
        *facts,
        f"high {{{rnd.choice((2.5, 6.0))}}}",
        bevel,
        *_at(body, at, whole, rnd),
        name=name,
    )
    _place(made, name, at, whole)


def _neighbour(made: Recipe, across: float, rnd: Random) -> str:
    """Something round that is measured and no part of it, sometimes with sizes that nothing asks for."""
    more = rnd.choice(
        (
            "",
            "",
            "long {30}",
            "deep {12}",
            "flat {%s}" % (0.8 * across),
            "high {9}",
            "thick {2}",
            "wide {4}",
            "hex {%s}" % (0.8 * across),
            "square {%s}" % (0.7 * across),
        )
    )
    return made.add("neighbour", rnd, f"across {{{across}}}", more).name


def _bore(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    name, across = made.name(rnd), rnd.choice((4.0, 6.0))
    pick = rnd.choice(
        ("serrated", "splines", "same", "read", "fit", "clears", "flat", "hex", "pocket", "nut")
    )
    opens = 1
    depth = rnd.choice(([f"through {body}"], [], [f"deep {{{0.5 * thick}}} from {body}.{_flat(rnd)}"]))
    facts = {
        "serrated": [f"across {{{across}}}", f"serrated {rnd.choice((3, 12))} deep {{0.4}}"],
        "splines": [f"across {{{across}}}", f"splines {rnd.choice((4, 7))} deep {{0.6}}"],
        "same": [f"same as {_neighbour(made, across, rnd)}"] if pick == "same" else [],
        "fit": [f"turns on {_neighbour(made, across, rnd)}"] if pick == "fit" else [],
        "read": [f"across {{{across}}} rough, {{{across}}} made {{{across + 0.2}}}", "as read"],
        "clears": [rnd.choice(("clears M4 medium", "clears M5 coarse", "clears M4"))],
        "flat": [f"across {{{across}}}", f"flat {{{0.8 * across}}}", "turned 20"],
        "hex": [f"hex {{{across}}}", "turned 45"],
        "pocket": ["clears M3", _pocket(body, rnd)],
        "nut": ["hex M3 nut", rnd.choice(("", "turned 30"))],
    }[pick]
    if pick == "pocket":
        depth = [f"through {body}"]
    depth = depth or [f"on {body}.front"]
    opens = 0 if depth[0].startswith("deep") else 1
    made.add("bore", rnd, *facts, *depth, *_at(body, at, whole, rnd), name=name)
    made.genus = (made.genus or 0) + opens
    if pick == "same":
        made.rounds[name] = across
    _place(made, name, at, whole)


def _pocket(body: str, rnd: Random) -> str:
    """Room for what a screw needs, at either flat."""
    what = rnd.choice(
        (
            "countersink M3",
            "counterbore M3 deep {1.5}",
            "counterbore M3 nut deep {1.5}",
            "counterbore M3 washer",
        )
    )
    return f"{what} at {body}.{rnd.choice(('front', 'back'))}"


def _notch(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    depth = rnd.choice(([f"through {body}"], [f"on {body}.{_flat(rnd)}", f"deep {{{0.4 * thick}}}"]))
    name = made.add(
        "notch",
        rnd,
        "wide {6}",
        "high {4}",
        *depth,
        rnd.choice(("", "turned 30", "turned 90")),
        rnd.choice(("", "round inside {0.8}")),
        *_at(body, at, whole, rnd),
    ).name
    made.genus = (made.genus or 0) + depth[0].startswith("through")
    _place(made, name, at, whole)


def _slot(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    """A slot between two points, or as wide as something measured."""
    square = rnd.choice(("", "square ends"))
    if rnd.random() < 0.5:
        ends = [
            made.add("point", rnd, *_at(body, (at[0] + dx, at[1] + dy), whole, rnd)).name
            for dx, dy in ((-2, -1), (2.5, 1))
        ]
        made.add("slot", rnd, "wide {2.4}", "ends " + ", ".join(ends), f"through {body}", square)
    else:
        made.add(
            "slot",
            rnd,
            f"same as {_neighbour(made, 2.2, rnd)}",
            "long {7}",
            f"through {body}",
            square,
            rnd.choice(("level", "turned 60", f"along {body}.top", f"square to {body}.top")),
            *_at(body, at, whole, rnd),
        )
    made.genus = (made.genus or 0) + 1


def _gear(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    made.add(
        "gear",
        rnd,
        f"on {body}.{_flat(rnd)}",
        "teeth 9",
        "module {1}",
        "thick {4}",
        rnd.choice(("", "shift 0.3", "backlash {0.15}", "helix 15 left-handed")),
        *_at(body, at, whole, rnd),
    )


def _side(body: str, thick: float, rnd: Random) -> list[str]:
    """The middle of a side of the base."""
    side = rnd.choice(FACING)
    ends = ("left", "right") if side in ("top", "bottom") else ("top", "bottom")
    return [
        f"on {body}.{side}",
        f"midway {body}.{ends[0]}, {body}.{ends[1]}",
        rnd.choice((f"midway {body}.front, {body}.back", f"from {body}.back centre {{{0.5 * thick}}}")),
    ]


def _side_mark(made: Recipe, body: str, thick: float, rnd: Random) -> None:
    made.add(
        "mark",
        rnd,
        *_side(body, thick, rnd),
        _inked(rnd),
        "high {2.5}",
        rnd.choice(("raised {0.4}", "sunk {0.4}")),
    )


def _side_arm(made: Recipe, body: str, thick: float, rnd: Random) -> None:
    sizes = [one for one in _arm_sizes(rnd) if not one.startswith(("wide", "fillet"))]
    made.add("arm", rnd, *_side(body, thick, rnd), *sizes, "wide {3}")


def _side_peg(made: Recipe, body: str, thick: float, rnd: Random) -> None:
    made.add("peg", rnd, *_side(body, thick, rnd), "across {3}", "high {5}")


def _side_notch(made: Recipe, body: str, thick: float, rnd: Random) -> None:
    made.add("notch", rnd, *_side(body, thick, rnd), "wide {4}", "high {2}", "deep {1.5}")
