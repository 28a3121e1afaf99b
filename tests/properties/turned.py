"""Turnings with all that is worked into them: beads, coves, vees, edges, grips, bores with edges of their
own, slopes.
"""

from __future__ import annotations

from random import Random

from .writing import Recipe, Statement, begun

FACING = ("left", "right", "top", "bottom")


def shaped_turning(rnd: Random) -> Recipe:
    """A foot of 30, a shank of 20 and a head of 26, worked outside and inside, each stretch in a way of its
    own.
    """
    made = begun(rnd)
    body = made.name(rnd)
    shank, worked = _shank(rnd)
    facts = ["across {30} from 0 to {6}", shank, "across {26} from {26} to {34}"]
    facts += [
        rnd.choice(
            (
                "",
                "bevel {0.8} at 0",
                "round outside {1.2} at 0",
                "round {0.7} at 0",
                "bevel outside {0.5} at 0",
            )
        ),
        rnd.choice(("", "hollow {1.5} at {6}", "hollow outside {2.5} at {6}")),
        rnd.choice(("", "hollow {1} at {26}", "bevel {0.6} at {26}")),
    ]
    facts += worked
    facts += rnd.choice(([], [], _rim_grip(rnd)))
    bored = rnd.choice(("no", "no", "blind", "through"))
    made.genus = 1 if bored == "through" else 0
    if bored != "no":
        floor = 0 if bored == "through" else 12
        facts += _in_bore(floor, rnd)
    top = rnd.choice(("", "", "plain", "leans"))
    if top:
        cut = made.name(rnd)
        line = f"leans {{30.5}} at {body}.left, {{33}} at {body}.right from {body}.back"
        if top == "plain":
            line = (
                rnd.choice(
                    ("dropped {2} from %s.front", "dropped {32} from %s.back", "raised {-2} from %s.front")
                )
                % body
            )
        made.add("plane", rnd, line, name=cut)
        facts.append(f"trim {cut}")
    elif rnd.random() < 0.4:
        facts.append(rnd.choice(("bevel {1} at {34}", "round {1.5} at {34}")))
    made.add("turning", rnd, *facts, name=body)
    made.turnings[body] = 30.0
    made.places[body] = (0.0, 0.0)
    if rnd.random() < 0.4:
        _cross_hole(made, body, bored, rnd)
    made.cuts.append(
        Statement("bore", made.name(rnd), [f"around {body}", "across {13.5}", f"through {body}"])
    )
    return made


def _shank(rnd: Random) -> tuple[str, list[str]]:
    """The station of the shank and what is worked into it; under a grip it may taper, or carry a bead."""
    straight = "across {20} from {6} to {26}"
    if rnd.randrange(8) < 3:
        return straight, [
            one
            for one in (
                rnd.choice(
                    ("", "bead {22.4} at {10.5} wide {3}", "bead {21} at {10.5} wide {3} through {20.9}")
                ),
                rnd.choice(("", "cove {17} at {16} wide {3}", "cove {15} at {16} wide {4}")),
                rnd.choice(("", "vee {18} at {21} wide {2}", "groove {16} from {20} to {22}")),
            )
            if one
        ]
    shank = rnd.choice((straight, "taper {20} at {6}, {23.4} at {26}", "taper {21.5} at {6}, {19.1} at {26}"))
    pick = rnd.randrange(6)
    grip = (
        f"serrated {rnd.choice((3, 18, 40))} deep {{0.5}} from {{9}} to {{22}}",
        f"splines {rnd.choice((4, 6, 9))} deep {{1}} from {{9}} to {{22}}",
        f"diamond {rnd.choice((12, 20))} deep {{0.6}} from {{9}} to {{17}}",
        f"hex {{{rnd.choice((17.5, 15))}}} from {{9}} to {{22}}",
        f"square {{{rnd.choice((16, 14.2))}}} from {{9}} to {{22}}",
        (
            f"flat {{18}} from {{9}} to "
            f"{{22}}{rnd.choice(('', ' facing left', ' facing top', ' facing bottom'))}"
        ),
    )[pick]
    on = rnd.choice(
        (
            "",
            "",
            "bead {23.6} at {13} wide {3}",
            "cove {18} at {13} wide {2}",
            "groove {19} from {12} to {14}",
        )
    )
    return shank, [grip, on] if on and pick < 3 else [grip]


def _rim_grip(rnd: Random) -> list[str]:
    return [
        rnd.choice(
            (
                f"serrated {rnd.choice((24, 60))} deep {{0.6}} from {{27}} to {{32}}",
                "splines 12 deep {0.8} from {26} to {31}",
                "flat {25} from {27} to {31} facing right",
            )
        )
    ]


def _in_bore(floor: int, rnd: Random) -> list[str]:
    bored = rnd.choice(
        (
            [f"bored {{12}} from {{{floor}}} to {{34}}"],
            ["bored {12} from {16} to {34}", f"bored {{9}} from {{{floor}}} to {{16}}"],
            [f"bored taper {{11}} at {{{floor}}}, {{12}} at {{34}}"],
        )
    )
    facts = [
        *bored,
        rnd.choice(
            (
                "",
                "bead inside {10.6} at {24} wide {2}",
                "bead inside {10.8} at {24} wide {1.5} through {10.9}",
            )
        ),
    ]
    if len(bored) == 2:
        facts.append(rnd.choice(("", "hollow inside {0.8} at {16}")))
    elif floor and "taper" not in bored[0]:
        facts.append(rnd.choice(("", "hollow inside {1.5} at {12}")))
    elif not floor:
        facts.append(rnd.choice(("", "bevel inside {0.6} at 0", "round inside {0.8} at 0")))
    return [one for one in facts if one]


def _cross_hole(made: Recipe, body: str, bored: str, rnd: Random) -> None:
    """A hole square to the axis, on a plane that stands on a line through it."""
    line, plane, name = made.name(rnd), made.name(rnd), made.name(rnd)
    way = rnd.choice(("level", "upright"))
    made.add("line", rnd, way, f"from {body} centre 0", name=line)
    faces = rnd.choice(
        (
            "",
            "faces above" if way == "level" else "faces right",
            "faces below" if way == "level" else "faces left",
        )
    )
    made.add("plane", rnd, f"stands on {line}", faces, name=plane)
    made.add(
        "bore",
        rnd,
        f"on {plane}",
        "across {4}",
        f"through {body}",
        f"{'plumb' if way == 'level' else 'level'} with {body}",
        f"from {body}.back centre {{18.5}}",
        name=name,
    )
    made.rounds[name] = 4.0
    made.genus = (made.genus or 0) + (2 if bored != "no" else 1)


def lying_turning(rnd: Random) -> Recipe:
    """A block with a handle turned along a line that lies in its page, its back half buried in the block."""
    made = begun(rnd)
    base, line, start, body = (made.name(rnd) for _ in range(4))
    made.add("block", rnd, "long {40}", "wide {24}", "thick {6}", name=base)
    along = rnd.choice(("level", "upright"))
    made.add(
        "line",
        rnd,
        along,
        f"midway {base}.{'top' if along == 'level' else 'left'}, "
        f"{base}.{'bottom' if along == 'level' else 'right'}",
        f"on {base}.front" if rnd.random() < 0.5 else "",
        name=line,
    )
    made.add(
        "point",
        rnd,
        f"on {line}",
        f"flush with {base}.{'left' if along == 'level' else 'bottom'}",
        name=start,
    )
    made.add(
        "turning",
        rnd,
        f"lies along {line} from {start}",
        "across {8} from {2} to {20}",
        "taper {8} at {20}, {6} at {23}",
        rnd.choice(
            ("", "round {0.8} at {2}", "cove {7} at {10} wide {2}", "splines 5 deep {0.6} from {4} to {18}")
        ),
        name=body,
    )
    made.genus = None
    return made
