"""Blocks and plates that taper, planes of all kinds with things on them, bodies trimmed by planes that lean,
and ribs.
"""

from __future__ import annotations

from random import Random

from .writing import Recipe, Statement, begun

ENDS = (("left", "right"), ("bottom", "top"))


def tapered_block(rnd: Random) -> Recipe:
    """A block thicker at one end, with things square to its slope, and another one standing on a side of
    it.
    """
    made = begun(rnd)
    body, ends = made.name(rnd), rnd.choice(ENDS)
    ends = ends if rnd.random() < 0.5 else ends[::-1]
    first, second = rnd.choice(((4.0, 9.0), (0.0, 8.0), (6.0, 6.5)))
    made.add(
        "block",
        rnd,
        "long {50}",
        "wide {30}",
        f"taper {{{first}}} at {ends[0]}, {{{second}}} at {ends[1]}",
        name=body,
    )
    made.tapers[body] = (first, second)
    made.genus = 0
    for dx in rnd.sample((-13, 0, 13), rnd.randint(0, 2)):
        at = f"at {{{dx}}}, {{{rnd.choice((0, 4.5))}}} from {body}"
        _on_slope(made, body, at, rnd)
    if rnd.random() < 0.5:
        side = ends[1]
        ways = ("top", "bottom") if side in ("left", "right") else ("left", "right")
        made.add(
            "block",
            rnd,
            f"against {body}.{side}",
            f"flush with {body}.back",
            "long {6}",
            "wide {6}",
            f"taper {{3}} at {ways[0]}, {{5}} at {ways[1]}",
            f"midway {body}.{ways[0]}, {body}.{ways[1]}",
        )
    made.cuts.append(
        Statement("bore", made.name(rnd), [f"on {body}.back", "across {3}", f"at {{-5}}, {{-8}} from {body}"])
    )
    return made


def _on_slope(made: Recipe, body: str, at: str, rnd: Random) -> None:
    """A peg, a mark, an arm or a bore where the body slopes."""
    pick = rnd.randrange(5)
    if pick == 0:
        made.add("peg", rnd, f"on {body}.front", "across {5}", "high {4}", at)
    elif pick == 1:
        made.add(
            "mark",
            rnd,
            f"on {body}.front",
            rnd.choice(("arrow", 'says "up"')),
            "high {5}",
            rnd.choice(("raised {0.5}", "sunk {0.3}")),
            at,
        )
    elif pick == 2:
        made.add(
            "arm",
            rnd,
            f"on {body}.{rnd.choice(('front', 'back'))}",
            "long {8}",
            "wide {4}",
            "thick {2}",
            f"nose {{1}} facing {rnd.choice(('left', 'top'))}",
            at,
        )
    else:
        made.add("bore", rnd, f"on {body}.back", "across {4}", at)
        made.genus += 1


def tapered_plate(rnd: Random) -> Recipe:
    """A lever between two rounds whose outer flat slopes from one to the other."""
    made = begun(rnd)
    body, hub, tip, pivot = (made.name(rnd) for _ in range(4))
    dx, dy = rnd.choice(((36.0, 0.0), (0.0, 36.0), (36.0, 15.0)))
    along = (dx * dx + dy * dy) ** 0.5
    first, second = rnd.choice(((7.0, 4.0), (3.0, 6.0), (5.0, 5.0)))
    made.add("bore", rnd, "at 0, 0", "across {5}", f"through {body}", name=pivot)
    made.add("round", rnd, f"around {pivot}", "across {14}", name=hub)
    made.add(
        "round",
        rnd,
        f"at {{{dx}}}, {{{dy}}} from {pivot}",
        *rnd.choice((["across {9}"], ["chord {8}", "rise {2.5}"])),
        name=tip,
    )
    across_tip = 9.0
    edge = rnd.choice(("", "bevel {0.4} at back"))
    made.add(
        "plate",
        rnd,
        f"taper {{{first}}} at {hub}, {{{second}}} at {tip}",
        f"belt {hub}, {tip}",
        edge,
        name=body,
    )
    slope = (second - first) / along
    outer = (first - 7.0 * slope, second + 0.5 * across_tip * slope)
    made.tapers[body] = outer
    made.genus = 1
    made.places |= {pivot: (0.0, 0.0), tip: (dx, dy)}
    if rnd.random() < 0.6:
        pad = made.add("point", rnd, f"on {body}.front", f"at 0, 0 from {tip}").name
        made.add("peg", rnd, f"on {body}.front", "across {3}", "high {2}", f"around {pad}")
    return made


def planed(rnd: Random) -> Recipe:
    """A block trimmed by a plane of each kind, with pegs on planes and a hole on a plane that stands on a
    line.
    """
    made = begun(rnd)
    body = made.name(rnd)
    made.genus = 0
    pick, plane = _plane(made, body, rnd)
    trim = f"trim {plane}.front" if pick == "flat of another" else f"trim {plane}"
    made.add("block", rnd, "long {50}", "wide {30}", "thick {11}", trim, name=body)
    if pick.startswith("leans") or pick == "raised":
        made.add(
            "peg", rnd, f"on {plane}", "across {6}", "high {5}", "raised {-1}", f"at 0, {{0}} from {body}"
        )
    if pick != "flat of another" and rnd.random() < 0.6:
        _sighted(made, body, rnd)
    return made


def _plane(made: Recipe, body: str, rnd: Random) -> tuple[str, str]:
    """What kind of plane a body is trimmed by, and its name (or that of the body whose flat it is)."""
    pick = rnd.choice(("leans", "leans by things", "raised", "stands", "flat of another"))
    plane = made.name(rnd)
    if pick == "leans":
        a, b = rnd.choice(ENDS)
        line = rnd.choice(
            (
                f"leans {{6}} at {body}.{a}, {{9}} at {body}.{b} from {body}.back",
                f"leans {{5}} at {body}.{a}, {{1}} at {body}.{b} from {body}.front",
            )
        )
        made.add("plane", rnd, line, name=plane)
    elif pick == "leans by things":
        a, b = (
            made.add("point", rnd, f"at {{{x}}}, {{{y}}} from {body}").name
            for x, y in ((-15, -8), (12, rnd.choice((-8, 9))))
        )
        made.add("plane", rnd, f"leans {{9}} at {a}, {{7}} at {b} from {body}.back", name=plane)
    elif pick == "raised":
        made.add(
            "plane",
            rnd,
            rnd.choice((f"raised {{-2}} from {body}.front", f"dropped {{2}} from {body}.front")),
            name=plane,
        )
    elif pick == "stands":
        edge = made.add("point", rnd, f"flush with {body}.right", f"from {body}.bottom centre {{3}}").name
        line = made.add(
            "line", rnd, "upright", f"from {body}.right near {{6}}", rnd.choice(("", f"left of {edge}"))
        ).name
        made.add(
            "plane",
            rnd,
            f"stands on {line}{rnd.choice(('', ' at 70', ' at 105'))}",
            rnd.choice(("", "faces right", "faces left")),
            name=plane,
        )
    else:
        made.statements.append(
            Statement(
                "block",
                plane,
                [
                    "long {50}",
                    "wide {6}",
                    f"against {body}.top",
                    "thick {8}",
                    f"midway {body}.left, {body}.right",
                ],
            )
        )
    return pick, plane


def _sighted(made: Recipe, body: str, rnd: Random) -> None:
    """A hole or notch on a plane that stands on a line, or square to a line at a point."""
    line, plane = made.name(rnd), made.name(rnd)
    if rnd.random() < 0.5:
        made.add("line", rnd, "level", f"flush with {body}.bottom", name=line)
        made.add("plane", rnd, f"stands on {line}", "faces below", name=plane)
    else:
        start = made.name(rnd)
        made.add("line", rnd, "upright", f"midway {body}.left, {body}.right", name=line)
        made.add("point", rnd, f"on {line}", f"flush with {body}.bottom", name=start)
        made.add("plane", rnd, f"square to {line} at {start}", name=plane)
    made.add(
        "bore",
        rnd,
        f"on {plane}",
        "across {3}",
        f"through {body}",
        f"from {body}.left centre {{9}}",
        f"from {body}.back centre {{3}}",
    )
    made.genus = (made.genus or 0) + 1


def ribbed(rnd: Random) -> Recipe:
    """A leaf and a ledge on it, joined by ribs, a fillet, and a wall along the edge of the leaf; a rib along
    points.
    """
    made = begun(rnd)
    leaf, ledge = made.name(rnd), made.name(rnd)
    made.add("block", rnd, "wide {24}", "high {46}", "thick {3}", name=leaf)
    made.add(
        "block",
        rnd,
        f"on {leaf}.front",
        "wide {24}",
        "high {3}",
        f"reaches {{30}} from {leaf}.back",
        rnd.choice((f"flush with {leaf}.bottom", f"from {leaf}.top near {{15}}")),
        f"midway {leaf}.left, {leaf}.right",
        name=ledge,
    )
    for place in rnd.sample(
        (
            f"flush with {leaf}.left",
            f"midway {leaf}.left, {leaf}.right",
            f"from {leaf}.right near {{3}}",
            f"from {leaf}.right far {{6}}",
            f"from {leaf}.left centre {{9}}",
        ),
        rnd.randint(0, 2),
    ):
        made.add(
            "rib",
            rnd,
            f"between {leaf}.front, {ledge}.top",
            "thick {1.6}",
            f"reach {{11}} along {leaf}.front",
            f"reach {{14}} along {ledge}.top",
            place,
        )
    if rnd.random() < 0.6:
        made.add("fillet", rnd, f"between {leaf}.front, {ledge}.top", "radius {2.5}")
    if rnd.random() < 0.5:
        a, b, c = (
            made.add("point", rnd, f"on {leaf}.front", f"at {{{x}}}, {{{y}}} from {leaf}").name
            for x, y in ((-9, 8), (-2, 20), (9, 20))
        )
        made.add("rib", rnd, f"on {leaf}.front", f"along {a}, {b}, {c}", "thick {1.5}", "high {4}")
    if rnd.random() < 0.5:
        made.add("rim", rnd, f"on {leaf}.back", "thick {1.2}", "high {2}", rnd.choice(("", "inset {1}")))
    return made
