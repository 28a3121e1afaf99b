"""Recipes that must compile: parts laid out first, then read as a person would read them, so that a place
always solves.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from random import Random

from .blocks import block
from .brought_in import used_pattern
from .plates import plate
from .readings import hole_size, read
from .sloped import planed, ribbed, tapered_block, tapered_plate
from .standing import crowded
from .turned import lying_turning, shaped_turning
from .walked import arched, framed, layered, run_into
from .wheels import gear, rack, threaded
from .writing import Placed, Recipe, Statement, begun, inches, mm, size

__all__ = ["ALL", "PARTS", "Recipe", "Statement", "inches", "mm", "recipe"]


def turning(rnd: Random) -> Recipe:
    """A turned part: stations one behind the other, perhaps bored, grooved, bevelled, with holes round its
    axis.
    """
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
            facts.append(f"across {size(made, across, rnd)} from {{{at}}} to {{{at + length}}}")
        if length == 8.0 and rnd.random() < 0.5:
            facts.append(f"groove {{17}} from {{{at + 2}}} to {{{at + 4}}}")
        if number == 0 and rnd.random() < 0.4:
            facts.append("bevel {0.6} at 0")
        at += length
    pick, bored = rnd.random(), 0.0
    if pick < 0.3:
        bored = 12.0
        facts.append(f"bored {size(made, 12.0, rnd)} from {{{round(0.4 * at, 3)}}} to {{{at}}}")
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
    if not bored and rnd.random() < 0.75:
        _ringed(made, body, 6.3, rnd)
    made.places[body] = (0.0, 0.0)
    made.cuts.append(Statement("bore", made.name(rnd), [f"around {body}", "across {7.5}"]))
    return made


def _ringed(made: Recipe, body: str, away: float, rnd: Random) -> None:
    """Holes round an axis: the first one placed, or the ring by a chord or its pitch circle."""
    name = made.name(rnd)
    made.rounds[name] = 1.6
    count, over = rnd.choice((2, 3, 5, 6)), rnd.choice(("", "over 200"))
    step = math.radians(200 / (count - 1) if over else 360 / count)
    chord = 2 * away * math.sin(0.5 * step)
    edge, shift = rnd.choice((("near-near", -1.6), ("far-far", 1.6), ("centres", 0.0)))
    place, ring = rnd.choice(
        (
            ([f"at {{{away}}}, {{0}} from {body}"], []),
            ([f"angle {rnd.choice((30, 90))} from {body}", f"from {body} centre {{{away}}}"], []),
            ([f"level with {body}", f"right of {body}"], [f"pitch circle {{{2 * away}}}"]),
            ([f"plumb with {body}", f"above {body}"], [f"from next {edge} {{{chord + shift}}}"]),
        )
    )
    made.add("bore", rnd, *place, "across {1.6}", f"through {body}", name=name)
    made.add("ring", rnd, f"of {name}", f"count {count}", f"about {body}", over, *ring)
    made.genus = (made.genus or 0) + count


def strip(rnd: Random) -> Recipe:
    """A strip bent along points whose neighbours meet at blunt or right angles, with a hole near its
    start.
    """
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
    if len(known) == 2 and side != "middle on path":
        side = ""  # a straight path has neither an outside nor an inside
    made.add(
        "strip",
        rnd,
        f"thick {{{thick}}}",
        f"wide {size(made, 12.0, rnd)}",
        "path " + ", ".join(one.name for one in known),
        side,
        rnd.choice(("", "turns inside {4}")) if len(known) > 2 else "",
        name=body,
    )
    made.genus = 0
    return made


def patterned(rnd: Random) -> Recipe:
    """A block with a row, grid or mirror of a hole, slot or peg."""
    made = begun(rnd)
    body = made.name(rnd)
    made.add("block", rnd, "long {60}", "wide {40}", "thick {4}", name=body)
    made.genus = 0
    kind = rnd.choice(("bore", "slot", "peg"))
    facts = {
        "bore": ["across {3.2}", rnd.choice((f"through {body}", f"deep {{2}} from {body}.front"))],
        "slot": ["wide {2}", "long {5}", "upright", f"through {body}"],
        "peg": ["across {3.2}", "high {5}", f"on {body}.front"],
    }[kind]
    name = made.add(
        kind, rnd, *facts, f"from {body}.left centre {{8}}", f"from {body}.bottom centre {{7}}"
    ).name
    if kind != "slot":
        (made.rounds if kind == "bore" else made.pegs)[name] = 3.2
    pick = rnd.choice(("row", "row", "grid", "mirror"))
    count = rnd.randint(2, 4)
    if pick == "row":
        way = rnd.choice(("", "level", "level", "upright", "angle 20", f"along {body}.top"))
        row = made.add(
            "row",
            rnd,
            f"of {name}",
            f"count {count}",
            "pitch {8.5}" if kind == "slot" or rnd.random() < 0.5 else f"over {{{8.5 * (count - 1) + 3.2}}}",
            way,
        ).name
        if way in ("", "level") and count < 4:  # four reach over the middle
            if rnd.random() < 0.5:
                line = made.add("line", rnd, f"midway {body}.left, {body}.right").name
                made.add("mirror", rnd, f"of {row}", f"about {line}")
                count *= 2
            else:
                made.add("row", rnd, f"of {row}", "count 3", "pitch {11}", "upright")
                count *= 3
    elif pick == "grid":
        made.add("grid", rnd, f"of {name}", f"count {count}, 3", "pitch {11}, {9.5}")
        count *= 3
    else:
        line = made.add("line", rnd, f"midway {body}.left, {body}.right").name
        made.add("mirror", rnd, f"of {name}", f"about {line}")
        count = 2
    if not (kind == "peg" or any(one.startswith("deep ") for one in facts)):
        made.genus = count
    made.cuts.append(
        Statement(
            "bore",
            made.name(rnd),
            [f"from {body}.right far {{8}}", f"from {body}.top near {{5}}", "across {3}", f"through {body}"],
        )
    )
    return made


PARTS = (
    plate,
    plate,
    block,
    block,
    crowded,
    crowded,
    turning,
    shaped_turning,
    shaped_turning,
    lying_turning,
    strip,
    patterned,
    gear,
    rack,
    tapered_block,
    tapered_plate,
    planed,
    ribbed,
    framed,
    arched,
    run_into,
    layered,
    used_pattern,
)
ALL = (*PARTS, threaded)


def recipe(rnd: Random, some: tuple[Callable[[Random], Recipe], ...] = PARTS) -> Recipe:
    """A recipe of any kind of part, perhaps with zones of those it has in store, and with more said on its
    card.
    """
    made = rnd.choice(some)(rnd)
    if made.thickens and rnd.random() < 0.3:
        _zoned(made, rnd)
    _carded(made, rnd)
    return made


def _zoned(made: Recipe, rnd: Random) -> None:
    """Some of the zones in store are part of the recipe; the shapes they speak of go with them."""
    zones = [one for one in (*made.thickens, *made.cuts) if one.kind in ("thicken", "relieve")]
    taken = [one for one in made.thickens if one.kind not in ("thicken", "relieve")] + rnd.sample(zones, 1)
    made.statements += taken
    made.thickens = [one for one in made.thickens if one not in taken]
    made.cuts = [one for one in made.cuts if one not in taken]


def _carded(made: Recipe, rnd: Random) -> None:
    card = made.statements[0]
    flat = [one.name for one in made.statements if one.kind in ("block", "plate")]
    if flat and rnd.random() < 0.2:
        card.facts.append(f"prints on {rnd.choice(flat)}.{rnd.choice(('front', 'back'))}")
    if flat and rnd.random() < 0.2:
        card.facts.append(
            f"load 20 N on {rnd.choice(flat)}" + rnd.choice(("", " towards down", " towards left"))
        )
