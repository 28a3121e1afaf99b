"""What is written at holes and pegs, and how they are measured."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from ...model import Size, Thing
from ...model.holes import Hole
from ...model.sections import FlattedSection, PolygonSection, Section, ToothedSection
from ...model.types import Depth, Fit, Mouth
from ...quantities import Standing
from .amounts import Amount, amount, fitted_flat, shown, wanted
from .lettering import DIAMETER
from .measuring import NARROW, PROUD, by_fit, changed, drilled, instead, made, plain
from .pointers import often
from .types import Check, Gauge, Limits
from .views import Scene

Flats = tuple[tuple[str, Size], ...]

# -- what is written -------------------------------------------------------------------------------


def section_text(section: Section, size: Amount, flats: Flats, fit: Fit | None) -> str:
    """The size across with its sign, the flats as made, and what is cut all round it."""
    sign = DIAMETER
    if isinstance(section, PolygonSection):
        sign = "hex " if section.sides == 6 else "square "
    said = size.text(sign) + "".join(f", {word} {fitted_flat(over, fit).text()}" for word, over in flats[:1])
    if isinstance(section, ToothedSection):
        word = "splines" if section.splines else "serrated"
        said += f", {word}{toothed_text(section.count, section.depth)}"
    return said


def toothed_text(count: int, depth: float) -> str:
    """How many teeth and how deep, of serrations, splines and a diamond grip."""
    return f" {count} deep {shown(depth)}"


def depth_text(depth: Depth | None) -> str:
    """How deep a hole goes; '' for one that goes through."""
    return f", {amount(depth.size).text()} deep" if depth is not None else ""


def mouth_text(mouth: Mouth | None) -> str:
    """The counterbore or countersink of a hole."""
    if mouth is None:
        return ""
    wide = ("hex " if mouth.nut else DIAMETER) + shown(mouth.wide.value)
    deep = " \u00d7 90\u00b0" if mouth.conical else f", {shown(mouth.depth)} deep"
    return f", {mouth.called or mouth.said.word} {wide}{deep}"


def named(scene: Scene, thing: Thing) -> str:
    """How often a thing is there, and its name."""
    return f"{often(scene, thing)}{thing.name} "


# -- how it is measured ----------------------------------------------------------------------------


def across_check(scene: Scene, thing: Thing, word: str, size: Amount, read: Size) -> Check:
    """The size across of a hole (a slot's width) that drills go through."""
    return _across(thing, drilled(f"{thing.name} {word}", _measured(size), _each(scene, thing)), read)


def pocket_check(scene: Scene, thing: Thing, section: Section, size: Amount, read: Size) -> Check:
    """The size across of a hole with flats, which no drill measures."""
    over = "across the round" if isinstance(section, FlattedSection) else "across the flats"
    size, how = _measured(size), f"inner jaws, {over}{_each(scene, thing)}"
    limits = Limits(size.low, size.high, size.low - NARROW, size.high)
    return _across(thing, Check(f"{thing.name} across", Gauge.POCKET, how, size.value, limits), read)


def peg_check(scene: Scene, thing: Thing, size: Amount, read: Size) -> Check:
    """The size across of a peg."""
    size, how = _measured(size), f"outer jaws, twice, a quarter turn apart{_each(scene, thing)}"
    limits = Limits(size.low, size.high, size.low, size.high + PROUD)
    return _across(thing, Check(f"{thing.name} across", Gauge.PEG, how, size.value, limits), read)


def _across(thing: Thing, check: Check, read: Size) -> Check:
    line = by_fit(thing.fit) if thing.fit is not None else made(read.said)
    return replace(check, critical=thing.fit is not None, line=line, mates=True, across=thing.name)


def _measured(size: Amount) -> Amount:
    return size if size.standing is not Standing.ABOUT else wanted(size.value)


def _each(scene: Scene, thing: Thing) -> str:
    count = len(scene.places(thing))
    return f", each of the {count}" if count > 1 else ""


def mouth_checks(hole: Hole) -> Iterator[Check]:
    """The counterbore or countersink of a hole, by the name of its screw where it has one."""
    mouth = hole.mouth
    if mouth is None:
        return
    called = f"{mouth.called}: " if mouth.called else ""
    line = instead(mouth.said) if mouth.screw else changed(mouth.said)
    over = "across the flats" if mouth.nut else "across the mouth"
    key = f"{hole.name} {mouth.said.word}"
    yield plain(key, Gauge.POCKET, f"{called}inner jaws, {over}", wanted(mouth.wide.value), line, mates=True)
    if not mouth.conical:
        yield plain(f"{key} deep", Gauge.DEPTH, f"{called}depth rod", wanted(mouth.depth), line, mates=True)


def flat_checks(thing: Thing, section: Section, flats: Flats, depth: Depth | None) -> Iterator[Check]:
    """The flat of a hole or peg, how deep a hole is, the size over two flats."""
    both = isinstance(section, FlattedSection) and section.both
    over = "over both flats" if both else "from the flat to the round"
    cut = [
        plain(
            f"{thing.name} {word}",
            Gauge.POCKET,
            f"inner jaws, {over}",
            fitted_flat(size, thing.fit),
            made(size.said),
            mates=True,
        )
        for word, size in flats[:1]
    ]
    yield from () if both else cut
    yield from depth_checks(thing, depth)
    yield from cut if both else ()


def depth_checks(thing: Thing, depth: Depth | None) -> Iterator[Check]:
    """How deep a hole is."""
    if depth is not None:
        size, line = amount(depth.size), made(depth.size.said)
        yield plain(f"{thing.name} deep", Gauge.DEPTH, "depth rod", size, line, mates=True)
