"""The report of a part gathered from what was claimed, placed and built."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from ..callipers import Taken, ways_of
from ..checks.across_layers import pulled_apart
from ..checks.snaps import snaps
from ..diagnostics.types import Trouble
from ..kinds import own_file
from ..mesh.inner_holes import STILL, axis_of, finished, inner_things
from ..mesh.types import Part
from ..model import Model, Thing
from ..model.holes import Hole
from ..quantities import Standing
from ..quantities.tables import plastic
from .slopes import slopes
from .types import Feature, PartReport

if TYPE_CHECKING:
    from ..places.reading_weights import Weighed, WeighedPlace


def part_report(
    model: Model,
    part: Part,
    source_name: str,
    weighed: Weighed | None = None,
    taken: tuple[Taken, ...] = (),
) -> PartReport:
    """Figures, mass and features of a finished part; copies of a thing are named .2, .3 and so on.

    With `weighed` each place and size comes with how well it is known; a copy is known as well as its
    original."""
    known = {one.name: one for page in weighed.pages for one in page.places} if weighed is not None else {}
    features = [
        feature
        for thing in model.things.values()
        if thing.spot is not None and "." not in thing.name  # `hinge.pin` lies in a used part: below
        for feature in _features(thing, model, part, known.get(thing.name))
    ]
    features += _inner_features(model, part, known)
    features.sort(key=_order)
    plastic_name = model.card.plastic.text if model.card.plastic is not None else None
    density = _density(plastic_name)
    mass = density * part.figures.volume / 1000.0 if density is not None else None
    card, across = model.card, pulled_apart(model, part)
    return PartReport(
        card.title,
        source_name,
        part.figures,
        plastic_name,
        density,
        mass,
        tuple(features),
        card.make,
        sizes=weighed.sizes if weighed is not None else (),
        notes=tuple(one.told for one in snaps(model, part)),
        other_hand=part.mirrored,
        angles=tuple((one.name, one.word, one.degrees) for one in slopes(model)),
        loads=tuple((load.said.text.removeprefix("load "), load in across) for load in card.loads),
        measured=taken,
        ways=ways_of(model, part) if weighed is not None else (),
        prints_on="" if card.prints_on is None else card.prints_on.name,
    )


def _features(thing: Thing, model: Model, part: Part, known: WeighedPlace | None) -> Iterator[Feature]:
    """A thing and its copies."""
    spot, frame = thing.placed, model.frame(thing)
    start, own = frame.point(spot.at, spot.base), own_file(thing.noun, "figures")
    sizes = own.sizes(thing) if own is not None else ()
    standing = max((n.size.standing for n in thing.numbers if not n.trims), default=Standing.READ)
    for number, move in enumerate((STILL, *thing.copies), start=1):
        yield Feature(
            _numbered(thing.name, number),
            thing.noun,
            thing.plane,
            *finished(move.point(start), part),
            thing.across_made,
            standing,
            known,
            sizes,
            axis_of(frame.out, move, part) if isinstance(thing, Hole) else None,
        )


def _inner_features(model: Model, part: Part, known: Mapping[str, WeighedPlace]) -> Iterator[Feature]:
    """The holes of used parts, and what else of them is spoken of; each is known as well as the part it lies
    fast in.
    """
    for one in inner_things(model, part):
        name, hole = f"{one.owner}.{one.name}", one.of.hole
        yield Feature(
            _numbered(name, one.number),
            one.of.kind,
            model.things[one.owner].plane,
            *one.at,
            one.of.bored if hole else one.of.across or None,
            Standing.WANTED,
            known.get(name, known.get(one.owner)),
            (),
            one.axis if hole else None,
        )


def _order(feature: Feature) -> tuple[str, int]:
    """By name, copies by their numbers."""
    name, _, number = feature.name.rpartition(".")
    return (name, int(number)) if number.isdecimal() else (feature.name, 1)


def _numbered(name: str, number: int) -> str:
    return name if number == 1 else f"{name}.{number}"


def _density(name: str | None) -> float | None:
    if name is None:
        return None
    try:
        return plastic(name).density
    except Trouble:
        return None
