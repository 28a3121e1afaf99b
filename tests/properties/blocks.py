"""Blocks with one thing in each square of their front, a wall on them, and bores in their sides."""

from __future__ import annotations

from random import Random

from .readings import bore_depth, hole_size
from .writing import XY, Recipe, Statement, begun, size


def block(rnd: Random) -> Recipe:
    """A base block in squares of 14 mm, each with one thing on it or in it, a wall along its top edge, and
    side bores.
    """
    made = begun(rnd)
    body, thick, pitch = made.name(rnd), rnd.choice((4.0, 5.5, 7.0)), 14.0
    columns, rows = rnd.randint(2, 4), rnd.randint(1, 3)
    long, wide = columns * pitch, rows * pitch + 8.0
    edge = rnd.choice(("", "", "round outside {2}", "bevel {0.6} at back"))
    made.add(
        "block",
        rnd,
        f"long {size(made, long, rnd)}",
        f"wide {size(made, wide, rnd)}",
        f"thick {{{thick}}}",
        edge,
        name=body,
    )
    made.genus = 0
    squares = [(i, j) for i in range(columns) for j in range(rows)]
    for i, j in rnd.sample(squares, rnd.randint(1, len(squares))):
        at = ((i + 0.5) * pitch, (j + 0.5) * pitch)
        rnd.choice((_bore_in, _bore_in, _slot_in, _notch_in, _peg_on, _block_on, _turning_on, _washer_on))(
            made, body, at, thick, (long, wide), rnd
        )
    if rnd.random() < 0.5:
        _wall(made, body, (long, wide), rnd)
    if rnd.random() < 0.4:
        _side_bore(made, body, (long, wide), thick, rnd)
    middle = made.name(rnd)
    made.thickens.append(
        Statement(
            "rectangle",
            middle,
            [
                f"long {{{0.5 * long}}}",
                f"wide {{{0.5 * wide}}}",
                f"midway {body}.left, {body}.right",
                f"midway {body}.bottom, {body}.top",
            ],
        )
    )
    for kind, much in (("thicken", "by {1.5}"), ("relieve", f"by {{{round(0.1 * thick, 3)}}}")):
        some = made.thickens if kind == "thicken" else made.cuts
        some.append(
            Statement(
                kind,
                made.name(rnd),
                [f"on {body}.back", f"inside {middle}", much, rnd.choice(("ramp {0.4}", ""))],
            )
        )
        some[-1].facts = [one for one in some[-1].facts if one]
    return made


def _from_sides(body: str, at: XY, r: XY, whole: XY, rnd: Random) -> list[str]:
    """Readings from two sides of a block to the edges of a thing with half-sizes r; (0, 0): to its centre
    only.
    """
    facts = []
    for axis, sides in ((0, ("left", "right")), (1, ("bottom", "top"))):
        side = rnd.choice(sides)
        distance = at[axis] if side == sides[0] else whole[axis] - at[axis]
        word = rnd.choice(("near", "far", "centre")) if r[axis] > 0 else "centre"
        facts.append(
            f"from {body}.{side} {word} {{{distance + {'near': -1, 'far': 1, 'centre': 0}[word] * r[axis]}}}"
        )
    return facts


def _bore_in(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    name, across = made.name(rnd), round(rnd.uniform(2.0, 5.0), 1)
    facts, r = hole_size(made, name, across, rnd)
    depth, opens = bore_depth(body, thick, rnd, across)
    if name not in made.rounds:
        depth = [one for one in depth if "counter" not in one]
    depth = depth or [rnd.choice((f"on {body}.front", f"through {body}"))]
    made.add("bore", rnd, *facts, *depth, *_from_sides(body, at, (r, r), whole, rnd), name=name)
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])
    made.genus = (made.genus or 0) + opens
    made.cuts.append(
        Statement(
            "bore", made.name(rnd), [f"at {{0.2}}, {{0.4}} from {name}", "across {7.0}", f"through {body}"]
        )
    )


def _slot_in(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    wide, long = rnd.choice((2.0, 3.1)), rnd.choice((5.0, 8.0))
    way = rnd.choice(("", "level", "upright", f"along {body}.left", f"square to {body}.left", "turned 30"))
    depth = rnd.choice(([f"through {body}"], [f"deep {{{0.5 * thick}}} from {body}.front"]))
    wideness = rnd.choice((f"wide {{{wide}}}", f"drill {{{wide}}} not {{{wide + 0.1}}}"))
    name = made.add(
        "slot",
        rnd,
        wideness,
        f"long {{{long}}}",
        way,
        *depth,
        rnd.choice(("", "", "square ends")),
        *_from_sides(body, at, (0, 0), whole, rnd),
    ).name
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])
    made.genus = (made.genus or 0) + depth[0].startswith("through")


def _notch_in(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    long, high = rnd.choice((4.0, 7.0)), rnd.choice((3.0, 6.0))
    depth = rnd.choice(([f"through {body}"], [f"on {body}.front", f"deep {{{0.5 * thick}}}"]))
    name = made.add(
        "notch",
        rnd,
        f"long {{{long}}}",
        f"high {{{high}}}",
        *depth,
        rnd.choice(("", "round inside {0.8}")),
        *_from_sides(body, at, (0.5 * long, 0.5 * high), whole, rnd),
    ).name
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])
    made.genus = (made.genus or 0) + depth[0].startswith("through")


def _peg_on(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    name, across = made.name(rnd), rnd.choice((3.0, 5.2, 8.0))
    form = rnd.choice(("across", "across", "hex", "square"))
    if form == "across":
        made.pegs[name] = across
    r = 0.5 * across if form == "across" else 0.0
    made.add(
        "peg",
        rnd,
        f"on {body}.front",
        f"{form} {{{across}}}",
        f"high {{{rnd.choice((2.0, 6.0, 11.5))}}}",
        rnd.choice(("", "bevel {0.4} at tip", "bevel {0.5}")),
        *_from_sides(body, at, (r, r), whole, rnd),
        name=name,
    )
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])


def _block_on(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    long, wide, high = rnd.choice((4.0, 9.0)), rnd.choice((3.0, 8.0)), rnd.choice((1.2, 5.0))
    name = made.add(
        "block",
        rnd,
        f"on {body}.front",
        f"long {{{long}}}",
        f"wide {{{wide}}}",
        f"high {{{high}}}",
        rnd.choice(("", "round outside {0.8}")),
        *_from_sides(body, at, (0.5 * long, 0.5 * wide), whole, rnd),
    ).name
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])
    if rnd.random() < 0.3:
        made.add("rim", rnd, f"on {name}.front", "thick {0.8}", "high {1.5}", rnd.choice(("", "inset {0.3}")))


def _turning_on(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    name = made.name(rnd)
    made.turnings[name] = 9.0
    made.add(
        "turning",
        rnd,
        f"on {body}.front",
        "across {9} from 0 to {3}",
        "across {6} from {3} to {7}",
        rnd.choice(("", "bored {3} from {2} to {7}", "groove {5} from {4} to {5}")),
        *_from_sides(body, at, (0, 0), whole, rnd),
        name=name,
    )
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])


def _washer_on(made: Recipe, body: str, at: XY, thick: float, whole: XY, rnd: Random) -> None:
    """A pattern used: placed by its own hole, or by the sides of its box."""
    name, across, hole = made.name(rnd), rnd.choice((8.0, 10.5)), rnd.choice((2.0, 4.2))
    by_hole = rnd.random() < 0.5
    r = 0.5 * hole if by_hole else 0.5 * across
    made.add(
        "use",
        rnd,
        f"on {body}.front",
        f"with across = {{{across}}}",
        f"with hole = {{{hole}}}",
        rnd.choice(("", "with thickness = {2.5}")),
        "datum middle" if by_hole else rnd.choice(("", "turned 90", "lies on front")),
        *_from_sides(body, at, (r, r), whole, rnd),
        name=name,
    ).head = f'use {name} "washer"'
    made.places[name] = (at[0] - 0.5 * whole[0], at[1] - 0.5 * whole[1])


def _wall(made: Recipe, body: str, whole: XY, rnd: Random) -> None:
    """A wall that stands on the base along its top edge, with a fillet or a rib in the corner where it is
    free.
    """
    high = rnd.choice((10.0, 18.0))
    name = made.add(
        "block",
        rnd,
        f"on {body}.front",
        f"long {{{whole[0]}}}",
        "wide {3}",
        f"high {{{high}}}",
        f"flush with {body}.top",
        f"midway {body}.left, {body}.right",
    ).name
    pick = rnd.random()
    if pick < 0.4:
        made.add("fillet", rnd, f"between {body}.front, {name}.bottom", "radius {1.5}")
    elif pick < 0.8:
        place = rnd.choice(
            (f"flush with {body}.left", f"midway {body}.left, {body}.right", f"from {body}.right near {{4}}")
        )
        made.add(
            "rib",
            rnd,
            f"between {body}.front, {name}.bottom",
            "thick {2}",
            f"reach {{4}} along {body}.front",
            f"reach {{6}} along {name}.bottom",
            place,
        )


def _side_bore(made: Recipe, body: str, whole: XY, thick: float, rnd: Random) -> None:
    """A blind bore in a side of the base, read on that side's own page."""
    side = rnd.choice(("left", "right", "bottom"))
    page_long = whole[0] if side == "bottom" else whole[1]
    name = made.name(rnd)
    made.rounds[name] = 1.6
    sides = ("left", "right") if side == "bottom" else ("bottom", "top")
    made.add(
        "bore",
        rnd,
        f"on {body}.{side}",
        "across {1.6}",
        "deep {3}",
        f"from {body}.back centre {{{0.5 * thick}}}",
        f"from {body}.{rnd.choice(sides)} far {{{0.5 * page_long + 0.8}}}",
        name=name,
    )
