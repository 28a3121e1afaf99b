"""Gears, racks and threads that must compile, for the properties that every part has."""

from __future__ import annotations

import math
from random import Random

from makegood.quantities.gears import Gear, span_factor

from .writing import Recipe, begun


def gear(rnd: Random) -> Recipe:
    """A wheel or ring gear, perhaps with leaning teeth, found from what was read or said plainly, with a hub
    and a bore.
    """
    made = begun(rnd)
    body, module, inside = made.name(rnd), rnd.choice((1.0, 1.5, 2.0)), rnd.random() < 0.3
    teeth = rnd.choice((34, 40, 51)) if inside else rnd.choice((9, 12, 17, 20, 31, 32))
    helix = rnd.choice(("", "", "helix 12 right-handed", "helix 20 left-handed"))
    facts = [f"teeth {teeth}", "thick {6}", rnd.choice(("", "backlash {0.15}", "backlash 0")), helix]
    facts += [f"module {{{module}}}"] if inside or helix else _found(made, module, teeth, rnd)
    if inside:
        facts += ["inside", f"rim {{{module * (teeth + 8)}}}"]
    made.add("gear", rnd, *facts, name=body)
    made.genus = 1 if inside else 0
    made.places[body] = (0.0, 0.0)
    if not inside and rnd.random() < 0.6:
        made.add("turning", rnd, f"on {body}.front", f"around {body}", "across {5} from 0 to {4}")
    if not inside and rnd.random() < 0.6:
        made.add("bore", rnd, f"around {body}", "across {2.5}", "through all")
        made.genus = 1
    return made


def _found(made: Recipe, module: float, teeth: int, rnd: Random) -> list[str]:
    """What tells the module of a wheel: itself, a reading over tips or teeth, or a wheel it meshes with."""
    pick = rnd.choice(("module", "shift", "across", "span", "meshes", "centres"))
    if pick == "across":
        return [f"across {{{Gear(teeth, module).over_tips}}}"]
    if pick == "span":
        over = max(2, round(teeth / 9 + 0.5))
        return [f"span {{{module * span_factor(teeth, over, 0.0)}}} over {over}"]
    if pick in ("meshes", "centres"):
        other = made.add("neighbour", rnd, "teeth 19", f"module {{{module}}}").name
        return [
            f"meshes {other}" + (f", centres {{{module * (teeth + 19) / 2}}}" if pick == "centres" else "")
        ]
    return [f"module {{{module}}}", "shift 0.3" if pick == "shift" else ""]


def rack(rnd: Random) -> Recipe:
    """A block with the teeth of a rack along one of its sides, or along two of them."""
    made = begun(rnd)
    body = made.name(rnd)
    lines = []
    for side in rnd.choice(
        (("top",), ("bottom",), ("left",), ("right",), ("top", "bottom"), ("left", "right"))
    ):
        pick, module = rnd.choice(("module", "pitch", "meshes")), rnd.choice((1.0, 1.25))
        if pick == "meshes":
            other = made.add("neighbour", rnd, "teeth 16", f"module {{{module}}}").name
            lines.append(f"rack {side} meshes {other}{_row(rnd)}")
        else:
            lines.append(
                (
                    f"rack {side} module {{{module}}}"
                    if pick == "module"
                    else f"rack {side} pitch {{{4 * math.pi * module}}} over 4"
                )
                + _row(rnd)
            )
    made.add("block", rnd, "long {60}", "high {16}", "thick {4}", *lines, name=body)
    made.genus = 0
    if rnd.random() < 0.5:
        made.add(
            "bore", rnd, "across {3}", f"from {body}.left centre {{8}}", f"midway {body}.top, {body}.bottom"
        )
        made.genus = 1
    return made


def _row(rnd: Random) -> str:
    """How many teeth, where the first stands, and how much play they give up; 16 mm have room for them."""
    teeth = rnd.choice(("", " teeth 1", " teeth 2"))
    first = rnd.choice(("", " first at {3.5}"))
    return teeth + first + rnd.choice(("", " backlash 0", " backlash {0.2}"))


def _threads(made: Recipe, rnd: Random) -> list[str]:
    """Two threads, each by its standard name or as a neighbour carries it."""
    words = []
    for _ in range(2):
        if rnd.random() < 0.5:
            words.append(rnd.choice(("M8", "M6", "M8 fine", "M10x0.75")))
            continue
        neighbour = made.name(rnd)
        pitch, starts = rnd.choice((2.0, 3.0)), rnd.choice((1, 1, 2, 3))
        facts = [
            f"core {{{rnd.choice((6.4, 8.0))}}}",
            f"deep {{{rnd.choice((0.6, 0.9))}}}",
            f"pitch {{{3 * pitch}}} over 3",
            f"crest {{{0.25 * pitch}}}",
            f"foot {{{0.55 * pitch}}}",
            f"starts {starts}" if starts > 1 else "",
            rnd.choice(("", "left-handed")),
        ]
        made.add("neighbour", rnd, *facts, name=neighbour)
        words.append(neighbour)
    return words


def threaded(rnd: Random) -> Recipe:
    """A turning, block or peg with threads: by name, as a neighbour carries them, or their mates."""
    made = begun(rnd)
    one, two = _threads(made, rnd)
    clear = rnd.choice(("", ", {0.2} clear"))
    body = made.name(rnd)
    if rnd.random() < 0.5:
        outside = rnd.choice(
            (f"thread {one} from {{1}} to {{14}}", f"screws into {one} from {{1}} to {{14}}{clear}")
        )
        inside = rnd.choice(
            (f"thread inside {two} from {{20}} to {{32}}", f"screws on {two} from {{20}} to {{32}}{clear}")
        )
        made.add(
            "turning",
            rnd,
            "across {10.5} from 0 to {16}",
            "across {18} from {16} to {32}",
            outside,
            inside,
            name=body,
        )
        made.genus = 0
        return made
    made.add("block", rnd, "long {40}", "wide {24}", "thick {14}", name=body)
    deep = rnd.choice(("", f"deep {{9}} from {body}.front"))
    made.add(
        "bore",
        rnd,
        rnd.choice((f"thread {one}", f"screws on {one}{clear}")),
        deep,
        f"from {body}.left centre {{10}}",
        f"midway {body}.top, {body}.bottom",
    )
    facts = [
        "high {11}",
        f"on {body}.front",
        f"from {body}.right centre {{10}}",
        f"midway {body}.top, {body}.bottom",
    ]
    made.add(
        "peg",
        rnd,
        rnd.choice((f"thread {two}", f"screws into {two}{clear}")),
        *facts,
        rnd.choice(("", "bevel {0.4} at tip")),
    )
    made.genus = 0 if deep else 1
    return made
