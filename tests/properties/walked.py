"""Outlines that are walked past lines, arcs and rounds, and points and lines placed in all the ways there
are.
"""

from __future__ import annotations

import math
from random import Random

from .writing import XY, Recipe, Statement, begun


def framed(rnd: Random) -> Recipe:
    """A plate between four lines, its edges eased or trimmed, with a round hollowed into one and points
    placed on it.
    """
    made = begun(rnd)
    body, low, high, left, right = (made.name(rnd) for _ in range(5))
    corner = made.add("point", rnd, "at 0, 0").name
    made.places[corner] = (0.0, 0.0)
    long, wide, thick = 44.0, 26.0, rnd.choice((3.0, 5.2))
    far = _frame(made, corner, (low, high, left, right), (long, wide), rnd)
    _inner_points(made, corner, far, low, left, (long, wide), rnd)
    stops, genus = [low, right, high, left], 0
    if rnd.random() < 0.4:
        bay = made.add("round", rnd, f"at {{{0.5 * long}}}, {{{wide}}} from {corner}", "across {12}").name
        stops = [low, right, f"into {high}", f"inside {bay}", f"into {high}", left]
    if rnd.random() < 0.3:
        stops.reverse()
    facts = [
        rnd.choice(("", "bevel {0.6} at back", "raised {1.5}" if rnd.random() < 0.5 else "")),
        rnd.choice(("", "grow {0.5}", "shrink {0.5}")) if len(stops) > 4 else "round outside {2}",
    ]
    if rnd.random() < 0.3:
        ends = [
            made.add("point", rnd, f"at {{{x}}}, {{{y}}} from {corner}").name for x, y in ((0, 18), (12, 30))
        ]
        slope = made.add("line", rnd, "through " + ", ".join(ends)).name
        cut = made.add("plane", rnd, f"stands on {slope}").name
        facts.append(f"trim {cut}")
    made.add("plate", rnd, f"thick {{{thick}}}", "outline " + ", ".join(stops), *facts, name=body)
    made.genus = genus
    return made


def _frame(made: Recipe, corner: str, lines: tuple[str, str, str, str], whole: XY, rnd: Random) -> str:
    """Four lines round a rectangle that starts at a corner, and the name of the corner over that one."""
    (low, high, left, right), (long, wide) = lines, whole
    made.add("line", rnd, rnd.choice(("level", "angle 0")), f"from {corner} 0", name=low)
    far = made.add("point", rnd, f"at 0, {{{wide}}} from {corner}").name
    made.add(
        "line",
        rnd,
        *rnd.choice(
            (
                [f"parallel to {low}", f"from {low} {{{wide}}}", f"above {low}"],
                ["level", f"from {far} 0"],
                [f"parallel to {low}", f"from {low} centre {{{wide}}}", f"above {corner}"],
                [f"square to {left}", f"from {far} 0"],
            )
        ),
        name=high,
    )
    made.add(
        "line",
        rnd,
        *rnd.choice(
            (["upright", f"from {corner} 0"], [f"through {corner}, {far}"], ["angle 90", f"from {corner} 0"])
        ),
        name=left,
    )
    made.add(
        "line",
        rnd,
        *rnd.choice(
            (
                ["upright", f"from {left} {{{long}}}", f"right of {left}"],
                [f"square to {low}", f"from {corner} {{{long}}}", f"right of {corner}"],
                [f"angle 90 to {low}", f"from {left} {{{long}}}", f"right of {far}"],
            )
        ),
        name=right,
    )
    return far


def _inner_points(made: Recipe, corner: str, far: str, low: str, left: str, whole: XY, rnd: Random) -> None:
    """Points and a hole placed by words that pick among answers, their places known."""
    x, y = 12.0, 9.0
    away = math.hypot(x, y)
    stud = made.add("neighbour", rnd, "across {4}", f"at 0, 0 from {corner}").name
    ways = (
        [f"over {stud} {{{away + 4}}}", f"from {left} centre {{{x}}}", f"right of {left}", f"above {low}"],
        [
            f"from {corner} {{{away}}}",
            f"from {far} {{{math.hypot(x, whole[1] - y)}}}",
            f"same side of {left} as {{other}}",
        ],
        [f"from {low} {{{y}}}", f"from {left} {{{x}}}", f"above {corner}", f"right of {corner}"],
        [
            f"angle {math.degrees(math.atan2(y, x)):.12f} at {corner} from {{other}}",
            f"from {corner} {{{away}}}",
            f"above {low}",
        ],
        [f"at {{{x}}}, {{{y - whole[1]}}} from {far}"],
    )
    pick = rnd.choice(ways)
    other = made.add("point", rnd, f"at {{20}}, 0 from {corner}").name
    facts = [fact.replace("{other}", other) for fact in pick]
    over = facts[0].startswith("over")
    name = made.add("round" if over else "point", rnd, *facts, "across {4}" if over else "").name
    made.places[name] = (x, y)
    made.places[other] = (20.0, 0.0)
    if rnd.random() < 0.6:
        word, far_x = rnd.choice(
            ((f"beyond {other} from {corner}", 31.0), (f"short of {other} from {corner}", 13.0))
        )
        made.places[
            made.add("point", rnd, f"on {low}", f"from {other} {{{abs(far_x - 20.0)}}}", word).name
        ] = (far_x, 0.0)


def arched(rnd: Random) -> Recipe:
    """A plate walked past corners with an arc in its top, bulging or hollow, and slopes that run into a
    round.
    """
    made = begun(rnd)
    body, arc = made.name(rnd), made.name(rnd)
    corners = [(0.0, 0.0), (40.0, 0.0), (40.0, 15.0), (28.0, 15.0), (12.0, 15.0), (0.0, 15.0)]
    names: list[str] = []
    for x, y in corners:
        base = f" from {names[0]}" if names else ""
        names.append(made.add("point", rnd, f"at {{{x}}}, {{{y}}}{base}").name)
        made.places[names[-1]] = (x, y)
    made.add(
        "arc",
        rnd,
        rnd.choice(("rise {4}", "radius {10}", "rise {8}", "radius {8}")),
        rnd.choice(("", "inwards")),
        name=arc,
    )
    if rnd.random() < 0.4:
        floor = made.add("line", rnd, f"through {names[0]}, {names[1]}").name
        made.statements[0].facts.append(f"laid {floor} at the bottom")
    walk = [*names[:4], arc, *names[4:]]
    at = names[rnd.choice((1, 2))]
    facts = [
        rnd.choice(("", f"round outside {{3}} at {at}", f"round outside {{2}} at {names[0]}, {names[1]}"))
    ]
    made.add(
        "plate",
        rnd,
        "thick {4}",
        "outline " + ", ".join(walk if rnd.random() < 0.7 else walk[::-1]),
        *facts,
        name=body,
    )
    made.genus = 0
    if rnd.random() < 0.5:
        made.add("bore", rnd, f"at {{10}}, {{7}} from {names[0]}", "across {4}", f"through {body}")
        made.genus = 1
    return made


def run_into(rnd: Random) -> Recipe:
    """A barrel with an arm tangent to it on one side, into which a line runs without tangency on the other;
    an elbow.
    """
    made = begun(rnd)
    body, base, top, barrel = (made.name(rnd) for _ in range(4))
    made.statements.append(Statement("line", base, []))
    made.statements[0].facts.append(
        rnd.choice(
            (
                "laid BASE level, BARREL left of UNDER",
                "laid TOP above BASE",
                "laid BASE below TOP",
                "laid UNDER right of BARREL",
                "laid BASE level",
            )
        )
    )
    made.add("round", rnd, "across {9}", f"from {base} near 0", f"above {base}", name=barrel)
    made.add("line", rnd, f"parallel to {base}", f"from {base} {{3.2}}", f"above {base}", name=top)
    under = made.add("point", rnd, f"on {base}", f"from {barrel} near {{29}}", f"right of {barrel}").name
    heel = made.add("point", rnd, f"from {base} {{3.2}}", f"plumb with {under}", f"above {base}").name
    lip = made.add("point", rnd, f"from {base} {{4.5}}", f"plumb with {under}", f"below {base}").name
    tip = made.add(
        "point", rnd, f"from {base} {{4.5}}", f"from {lip} {{3.4}}", f"right of {lip}", f"below {base}"
    ).name
    nose = made.add("point", rnd, f"from {base} {{3.2}}", f"plumb with {tip}", f"above {base}").name
    walk, ease = rnd.choice(
        (
            ([barrel, base, under, heel, f"into {top}"], ""),
            ([barrel, base, under, lip, tip, nose, f"into {top}"], f"round inside {{1}} at {under}"),
        )
    )
    made.add("plate", rnd, "thick {6}", "outline " + ", ".join(walk), ease, name=body)
    made.genus = 0
    card = made.statements[0].facts
    card[-1] = (
        card[-1].replace("BASE", base).replace("TOP", top).replace("BARREL", barrel).replace("UNDER", under)
    )
    if rnd.random() < 0.5:
        _tangent(made, barrel, tip, rnd)
    if rnd.random() < 0.6:
        made.add("bore", rnd, f"around {barrel}", "drill {4}", f"through {body}")
        made.genus = 1
    return made


def _tangent(made: Recipe, barrel: str, tip: str, rnd: Random) -> None:
    """A line that touches two rounds on one side, and a point on it."""
    line = made.name(rnd)
    far = made.add("round", rnd, f"around {tip}", "across {2}").name
    side = rnd.choice(("above", "below"))
    made.add("line", rnd, f"touches {barrel}, {far}", f"{side} {barrel}", f"{side} {far}", name=line)
    made.add("point", rnd, f"on {line}", f"plumb with {tip}")


def layered(rnd: Random) -> Recipe:
    """Plates and a strip on each other: rectangles merged, a chord and rise, raised, laid on a front, zones
    and ribs.
    """
    made = begun(rnd)
    base, pad, one, two = (made.name(rnd) for _ in range(4))
    made.add(
        "rectangle",
        rnd,
        "long {40}",
        rnd.choice(("wide {24}", "high {24}")),
        "at 0, 0",
        rnd.choice(("", "round outside {3}")),
        name=one,
    )
    made.add(
        "round",
        rnd,
        *rnd.choice((["across {20}"], ["chord {12}", "rise {2}"])),
        f"at {{18}}, 0 from {one}",
        name=two,
    )
    made.add("plate", rnd, "thick {4}", f"merge {one}, {two}", name=base)
    made.places |= {one: (0.0, 0.0), two: (18.0, 0.0)}
    made.genus = 0
    _stacked(made, (base, pad), (one, two), rnd)
    a, b = (made.add("point", rnd, f"at {{{x}}}, {{-6}} from {one}").name for x in (-9, 9))
    face = rnd.choice((f"{base}.back", base))
    ramp = rnd.choice(([], ["ramp {0.5}"]))
    made.thickens.append(
        Statement("thicken", made.name(rnd), [f"on {face}", f"along {a}, {b} wide {{5}}", "by {1.2}", *ramp])
    )
    made.cuts.append(
        Statement("relieve", made.name(rnd), [f"on {face}", f"along {a}, {b} wide {{5}}", "to {3} overall"])
    )
    return made


def _stacked(made: Recipe, plates: tuple[str, str], shapes: tuple[str, str], rnd: Random) -> None:
    """What lies on, beside and along the lowest plate: a smaller plate, an ear, a strip."""
    (base, pad), (one, two) = plates, shapes
    if rnd.random() < 0.6:
        small = made.add(
            "round",
            rnd,
            f"same as {two}" if rnd.random() < 0.5 else "across {10}",
            f"on {base}.front",
            f"at {{-5}}, {{1}} from {one}",
        ).name
        made.add(
            "plate",
            rnd,
            f"on {base}.front",
            "thick {2}",
            f"merge {small}",
            rnd.choice(("", "raised {-0.5}")),
            name=pad,
        )
        made.genus = None  # a dip that runs under it is a tunnel
    if rnd.random() < 0.3:
        ear = made.add("round", rnd, "across {12}", f"at {{-20}}, 0 from {one}").name
        made.add(
            "plate", rnd, f"flush with {base}.{rnd.choice(('front', 'back'))}", "thick {2.5}", f"merge {ear}"
        )
    if rnd.random() < 0.5:
        a, b = (
            made.add("point", rnd, f"on {base}.front", f"at {{{x}}}, {{8}} from {one}").name
            for x in (-12, 12)
        )
        made.add(
            "strip",
            rnd,
            f"path {a}, {b}",
            "thick {1.6}",
            *rnd.choice(
                (
                    [f"on {base}.front", "wide {5}"],
                    [f"on {base}.front", "raised {-1}", "wide {5}"],
                    [f"flush with {base}.back", "wide {9}"],
                )
            ),
            rnd.choice(("", "springs {0.2} over {18}")),
        )
