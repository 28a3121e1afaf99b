"""The patterns that come with makegood: clean as they are and at the ends of their limits, each with a volume
by hand.
"""

from __future__ import annotations

import math
import re
from pathlib import Path
from random import Random

import makegood
import pytest
from makegood.result import Result
from makegood.source.finding import PATTERNS
from shapely import affinity
from shapely.geometry import Point, Polygon
from shapely.ops import unary_union

from .figures import disc
from .making import said, sound

FILES = sorted(PATTERNS.glob("*.mend"))
LET = re.compile(r"^let (\w+) = (.+?)(?: from (.+) to (.+))?$", re.MULTILINE)
NAMES = [path.stem for path in FILES]


def sizes(name: str) -> dict[str, tuple[str, str, str]]:
    """Each size of a pattern: what it is, its least and its most, as typed."""
    text = (PATTERNS / f"{name}.mend").read_text(encoding="utf-8")
    return {one: (given, least, most) for one, given, least, most in LET.findall(text)}


def at(name: str, pick: dict[str, int]) -> dict[str, float]:
    """Sizes with each at its own (0), its least (1) or its most (2); a size that its limits forbid then is
    brought in.
    """
    found: dict[str, float] = {}
    for one, typed in sizes(name).items():  # a limit leans on sizes above it only
        value, least, most = (float(eval(text, {}, dict(found))) for text in typed)
        found[one] = (min(max(value, least), most), least, most)[pick.get(one, 0)]
    return found


def used(name: str, given: dict[str, float], more: str = "") -> Result:
    """The pattern used as the only body of a recipe."""
    lines = "".join(f"    with {key} = {value:.9g}\n" for key, value in given.items())
    return makegood.compile_text(f'recipe "stand"\n\nuse part "{name}"\n{lines}{more}')


def test_there_are_a_dozen() -> None:
    assert len(FILES) >= 12
    for name in NAMES:
        assert all(least and most for _, least, most in sizes(name).values()), "a size without limits"
        text = (PATTERNS / f"{name}.mend").read_text(encoding="utf-8")
        assert makegood.tidy_text(text)[0] == text
        assert text.startswith("# ")


@pytest.mark.parametrize("name", NAMES)
def test_it_compiles_clean_alone(name: str) -> None:
    result = makegood.compile_file(PATTERNS / f"{name}.mend")
    assert said(result) == []
    sound(result)
    assert result.figures.pieces == 1


@pytest.mark.parametrize("name", NAMES)
def test_it_compiles_clean_at_the_ends_of_its_limits(name: str) -> None:
    names = list(sizes(name))
    picks = [dict.fromkeys(names, 1), dict.fromkeys(names, 2)]
    picks += [{one: end} for one in names for end in (1, 2)]
    seen = 0
    for pick in picks:
        given = at(name, pick)
        result = used(name, given)
        assert said(result) == [], given
        assert result.figures.pieces == 1
        seen += 1
    assert seen >= 2 + 2 * len(names)


@pytest.mark.parametrize("name", NAMES)
def test_it_compiles_clean_anywhere_within_its_limits(name: str) -> None:
    """Sizes at ends and in the middle, mixed: the limits of one lean on the others, so that every mixture is
    a part.
    """
    rnd = Random(name)
    for _ in range(8):
        given = at(name, {one: rnd.randrange(3) for one in sizes(name)})
        result = used(name, given)
        assert said(result) == [], given
        assert result.figures.pieces == 1


@pytest.mark.parametrize("name", NAMES)
def test_beyond_its_limits_it_is_answered(name: str) -> None:
    plain = at(name, {})
    for one in plain:
        for end, step in ((1, -0.01), (2, 0.01)):
            given = {**plain, one: at(name, {one: end})[one] + step}
            codes = {(found.code, found.span.line) for found in used(name, given).diagnostics}
            assert ("out-of-limits", 4 + list(plain).index(one)) in codes, (one, given)


def cap_of(radius: float, distance: float) -> float:
    """Area of the part of a disc beyond a chord at a distance from its middle (circular segment)."""
    return radius**2 * math.acos(distance / radius) - distance * math.sqrt(radius**2 - distance**2)


def strip_of(radius: float, half: float, start: float) -> float:
    """Area of a disc where x > start >= 0 and |y| < half (half <= radius), integrated over y."""

    def whole(r: float) -> float:
        return half * math.sqrt(r**2 - half**2) + r**2 * math.asin(half / r)

    return whole(radius) - 2.0 * half * start


def hull_of(apart: float, big: float, small: float) -> float:
    """Area of the tight band round two discs of radii big >= small, filled: two sectors and two trapezia."""
    lean = math.acos((big - small) / apart)
    tangent = math.sqrt(apart**2 - (big - small) ** 2)
    return (math.pi - lean) * big**2 + lean * small**2 + tangent * (big + small)


# Volume (mm3) by closed form, and the curved surface (mm2) by which facets may fall short.
def _washer(s: dict[str, float]) -> tuple[float, float]:
    return (disc(s["across"]) - disc(s["hole"])) * s["thickness"], math.pi * (s["across"] + s["hole"]) * s[
        "thickness"
    ]


def _spacer(s: dict[str, float]) -> tuple[float, float]:
    return (disc(s["across"]) - disc(s["hole"])) * s["length"], math.pi * (s["across"] + s["hole"]) * s[
        "length"
    ]


def _bush(s: dict[str, float]) -> tuple[float, float]:
    bore = s["bolt"] + TURN
    total = s["flange_thickness"] + s["length"]
    exact = disc(s["flange"]) * s["flange_thickness"] + disc(s["across"]) * s["length"] - disc(bore) * total
    return exact, math.pi * total * (s["flange"] + bore)


def _knob(s: dict[str, float]) -> tuple[float, float]:
    radius, half = 0.5 * s["across"], 0.5 * s["pointer"]
    # The pointer is a band of the disc from the rim to half way: |x| < half, y from -R to -R/2, of depth 0.6.
    cut = (
        half * math.sqrt(radius**2 - half**2)
        + radius**2 * math.asin(half / radius)
        - 2.0 * half * 0.5 * radius
    )
    bore = s["shaft"] + PUSH
    exact = disc(s["across"]) * s["height"] - disc(bore) * (s["height"] - 2.0) - 0.6 * cut
    return exact, math.pi * s["height"] * (s["across"] + bore)


def _cap(s: dict[str, float]) -> tuple[float, float]:
    plug = s["inside"] - 0.2
    exact = disc(s["head"]) * s["thickness"] + (disc(plug) - disc(plug - 2 * s["wall"])) * s["deep"]
    return exact, math.pi * (s["head"] * s["thickness"] + 2 * plug * s["deep"])


def _foot(s: dict[str, float]) -> tuple[float, float]:
    a, b, h = 0.5 * s["top"], 0.5 * s["bottom"], s["height"]
    exact = math.pi * h * (a * a + a * b + b * b) / 3.0 - disc(s["screw"]) * 3.0 - disc(s["head"]) * (h - 3.0)
    return exact, math.pi * h * (s["bottom"] + s["head"])


def _wheel(s: dict[str, float]) -> tuple[float, float]:
    bore = s["axle"] + TURN
    exact = (disc(s["across"]) + disc(s["across"] - 2 * s["groove"])) * 0.5 * s["width"] - disc(bore) * s[
        "width"
    ]
    return exact, math.pi * s["width"] * (s["across"] + bore)


def _lever(s: dict[str, float]) -> tuple[float, float]:
    area = (
        hull_of(s["reach"], 0.5 * s["pivot_end"], 0.5 * s["far_end"])
        - disc(s["pivot_hole"])
        - disc(s["far_hole"])
    )
    return area * s["thickness"], math.pi * s["thickness"] * (
        s["pivot_end"] + s["far_end"] + s["pivot_hole"] + s["far_hole"]
    )


def _hook(s: dict[str, float]) -> tuple[float, float]:
    return (s["height"] + s["reach"] + s["lip"] - s["thickness"]) * s["thickness"] * s["width"], 0.0


def _bracket(s: dict[str, float]) -> tuple[float, float]:
    t, r = s["thickness"], s["corner"]
    exact = s["width"] * t * (s["height"] + s["depth"] - t) + (1.0 - math.pi / 4.0) * r * r * s["width"]
    return exact - 2.0 * disc(s["screw"]) * t, 2.0 * math.pi * s["screw"] * t + r * s["width"] * math.pi


def _wedge(s: dict[str, float]) -> tuple[float, float]:
    return 0.5 * (s["thick_end"] + s["thin_end"]) * s["length"] * s["width"], 0.0


def _clip(s: dict[str, float]) -> tuple[float, float]:
    outer, inner, half = 0.5 * s["rod"] + s["wall"], 0.5 * s["rod"], 0.5 * s["mouth"]
    area = math.pi * (outer**2 - inner**2) - (strip_of(outer, half, 0.0) - strip_of(inner, half, 0.0))
    return area * s["width"], 2.0 * math.pi * (outer + inner) * s["width"]


def _cover(s: dict[str, float]) -> tuple[float, float]:
    long, wide, inset = s["length"] - 2 * s["play"], s["width"] - 2 * s["play"], 0.8
    outer = (long - 2 * inset) * (wide - 2 * inset)
    inner = (long - 2 * (inset + s["wall"])) * (wide - 2 * (inset + s["wall"]))
    return long * wide * s["thickness"] + (outer - inner) * s["rim"], 0.0


def _hinge_leaf(s: dict[str, float]) -> tuple[float, float]:
    radius, t = 0.5 * s["barrel"], s["thickness"]
    # Where arm and barrel meet: the arm lies from -R to t - R across the axis, and to the right of it.
    shared = 0.5 * cap_of(radius, radius - t)
    profile = disc(s["barrel"]) - disc(s["pin"]) + (radius + 1.0) * t - shared
    exact = profile * 2.0 * s["width"] / 3.0 + s["length"] * t * s["width"] - 2.0 * disc(s["screw"]) * t
    return exact, math.pi * (s["barrel"] + s["pin"]) * s["width"]


def _latch(s: dict[str, float]) -> tuple[float, float]:
    area = s["length"] * s["width"] + 0.75 * s["nose"] * s["catch"] - disc(s["hole"])
    return area * s["thickness"], math.pi * s["hole"] * s["thickness"]


def gear_area(teeth: int, module: float, thinner: float) -> float:
    """Area of a wheel cut by the rack of ISO 53 (20 degrees, feet 1.25 deep and rounded by 0.38 modules), by
    rolling a tooth of the rack, made wider by the play, over the disc in small steps: another way than that
    of the compiler."""
    roll, tip = 0.5 * module * teeth, 0.5 * module * (teeth + 2)
    half, lean = math.pi * module / 4.0 + 0.5 * thinner, math.tan(math.radians(20.0))
    ends = [(-1.25 * module, 1.0), (3.0 * module, -1.0)]
    corners = [(side * way * (half + y * lean), y) for y, way in ends for side in (-1.0, 1.0)]
    tooth = Polygon(corners).buffer(-0.38 * module).buffer(0.38 * module, quad_segs=64)
    most = math.sqrt(tip**2 - (roll - 1.25 * module) ** 2) / roll + math.pi / teeth
    steps = [most * (k / 600.0 - 1.0) for k in range(1201)]
    placed = [
        affinity.rotate(affinity.translate(tooth, roll * one, roll), one, (0, 0), use_radians=True)
        for one in steps
    ]
    space = unary_union(placed).intersection(Point(0, 0).buffer(tip, quad_segs=2000))
    return disc(2.0 * tip) - teeth * space.area


def _gear(s: dict[str, float]) -> tuple[float, float]:
    teeth, bore = round(s["teeth"]), s["shaft"] + PUSH
    hole = disc(bore) - cap_of(0.5 * bore, 0.999 * s["flat"] + PUSH - 0.5 * bore)
    wheel = gear_area(teeth, s["size"], 0.1)
    exact = (
        wheel * s["thickness"] + disc(s["hub"]) * s["hub_height"] - hole * (s["thickness"] + s["hub_height"])
    )
    rim = (
        6.0 * s["size"] * teeth * s["thickness"]
    )  # flanks, tips and feet: at most so long a line round the wheel
    return exact, rim + math.pi * (s["hub"] * s["hub_height"] + bore * (s["thickness"] + s["hub_height"]))


TURN, PUSH = 0.2, 0.1  # mm that a hole is wider than its shaft (quantities/tables/fits.py)
VOLUMES = {
    "washer": _washer,
    "spacer": _spacer,
    "bush": _bush,
    "knob": _knob,
    "cap": _cap,
    "foot": _foot,
    "wheel": _wheel,
    "lever": _lever,
    "hook": _hook,
    "bracket": _bracket,
    "wedge": _wedge,
    "clip": _clip,
    "cover": _cover,
    "hinge-leaf": _hinge_leaf,
    "latch": _latch,
    "gear": _gear,
}


def test_every_pattern_has_its_volume() -> None:
    assert sorted(VOLUMES) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_its_volume_is_the_closed_form(name: str) -> None:
    """As it is, and used with other sizes: facets fall short by no more than curved surface x chord."""
    for given in (
        at(name, {}),
        {one: 1.1 * value if value > 5 else value for one, value in at(name, {}).items()},
    ):
        result = used(name, given)
        assert result.ok, said(result)
        exact, curved = VOLUMES[name](given)
        short = exact - result.figures.volume
        # A hole that turns or slides is cut to pass a true pin: its facets lie outside the circle, by the
        # chord at most.
        assert -1e-6 * exact - 1e-6 * result.figures.area <= short <= curved * 0.01 + 1e-6 * exact, (
            given,
            short,
            exact,
        )


def test_the_package_takes_them_along() -> None:
    assert Path(makegood.__file__).parent / "patterns" == PATTERNS
