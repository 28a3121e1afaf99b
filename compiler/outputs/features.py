"""The report of a part gathered from what was claimed, placed and built."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from ..diagnostics.types import Trouble
from ..facts import HOLES, Claims, Entry
from ..facts.extents import across, is_box, station_across
from ..facts.needs import SNAP_WORDS, THREAD_WORDS
from ..facts.pockets import pocket_name
from ..mesh.inner_holes import STILL, axis_of, finished, inner_things
from ..mesh.types import Part
from ..model import Model
from ..places.layout import Layout
from ..quantities import Standing
from ..quantities.tables import plastic
from .types import Feature, PartReport

if TYPE_CHECKING:
    from ..outlines.racks import BlockRack
    from ..places.reading_weights import Weighed, WeighedPlace
    from ..quantities.gears import Gear


_TRIMMINGS = frozenset(
    {
        "bevel",
        "round",
        "round inside",
        "round outside",
        "hollow",
        "fillet",
        "counterbore",
        "countersink",
        "serrated",
        "splines",
        "diamond",
        "ramp",
    }
)
"""Facts that neither the place nor the size of a thing rests on."""


def part_report(
    model: Model,
    claims: Claims,
    layout: Layout,
    part: Part,
    source_name: str,
    weighed: Weighed | None = None,
) -> PartReport:
    """Figures, mass and features of a finished part; copies of a thing are named .2, .3 and so on.

    With `weighed` each place and size comes with how well it is known; a copy is known as well as its
    original."""
    known = {one.name: one for page in weighed.pages for one in page.places} if weighed is not None else {}
    features = []
    for name, spot in sorted(layout.spots.items()):
        entry = claims.entries[name]
        if _is_inner(name, claims):
            continue
        start = layout.frames[spot.page].point(spot.at, spot.base)
        out = layout.frames[spot.page].out
        for number, move in enumerate((STILL, *layout.copies.get(name, ())), start=1):
            x, y, z = finished(move.point(start), part)
            axis = axis_of(out, move, part) if entry.kind in HOLES else None
            features.append(
                Feature(
                    _numbered(name, number),
                    entry.kind,
                    spot.page,
                    x,
                    y,
                    z,
                    _across(entry),
                    _standing(entry),
                    known.get(name),
                    _sizes(entry, claims),
                    axis,
                )
            )
    features += _inner_features(model, claims, layout, part, known)
    features.sort(key=_order)
    card = dict(claims.card)
    density = _density(card.get("plastic"))
    mass = density * part.figures.volume / 1000.0 if density is not None else None
    off = claims.recipe.one("off") if claims.recipe is not None else None
    return PartReport(
        claims.title,
        source_name,
        part.figures,
        card.get("plastic"),
        density,
        mass,
        tuple(features),
        int(off.number("count")) if off is not None else 1,
        sizes=weighed.sizes if weighed is not None else (),
        notes=_strains(model, claims, layout, part),
        other_hand=part.mirrored,
        angles=_angles(model, claims, layout),
    )


def _angles(model: Model, claims: Claims, layout: Layout) -> tuple[tuple[str, str, float], ...]:
    """What leans and tapers, and by how many degrees."""
    if not claims.holds("leans", "taper"):
        return ()
    from .slopes import slopes

    return tuple((one.name, one.word, one.degrees) for one in slopes(model, claims, layout))


def _strains(model: Model, claims: Claims, layout: Layout, part: Part) -> tuple[str, ...]:
    """What each snap joint is strained by."""
    if not claims.holds(*SNAP_WORDS):
        return ()
    from ..checks.snaps import snaps

    return tuple(one.told for one in snaps(model, claims, layout, part))


def _is_inner(name: str, claims: Claims) -> bool:
    owner, _, thing = name.partition(".")
    return owner in claims.stock and thing in claims.stock[owner].held


def _inner_features(
    model: Model, claims: Claims, layout: Layout, part: Part, known: Mapping[str, WeighedPlace]
) -> Iterator[Feature]:
    """The holes of used parts, and what else of them is spoken of; each is known as well as the part it lies
    fast in.
    """
    for one in inner_things(model, part):
        name, hole = f"{one.owner}.{one.name}", one.of.is_hole
        yield Feature(
            _numbered(name, one.number),
            one.of.kind,
            layout.spots[one.owner].page,
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


def _across(entry: Entry) -> float | None:
    if is_box(entry) or entry.kind in ("point", "gear"):
        return None
    if entry.kind == "turning":
        return max((station_across(claim) for claim in entry.all("across", "taper")), default=None)
    size = across(entry)
    return size.made.value if size is not None else None


def _sizes(entry: Entry, claims: Claims) -> tuple[tuple[str, float], ...]:
    """What a thread, gear, rack or pocket for a screw measures: the sizes by which it is checked, in the
    order read.
    """
    if entry.kind == "gear":
        from ..facts.gears import gear_of

        return _gear_sizes(gear_of(entry, claims).gear)
    if entry.has("rack"):
        from ..outlines.racks import block_racks

        return tuple(size for one in block_racks(entry, claims) for size in _rack_sizes(one))
    if not entry.has(*THREAD_WORDS):
        return _pocket_sizes(entry)
    from ..mesh.threading import threaded, windings

    some = windings(entry, claims) if entry.kind == "turning" else ()
    forms = [one.form for one in some] or [form for form in [threaded(entry, claims)] if form is not None]
    found: list[tuple[str, float]] = []
    for form in forms:
        kind = "thread" if form.outside else "inside thread"
        found += [(f"{kind} across", form.across), (f"{kind} core", form.core), (f"{kind} pitch", form.pitch)]
        if form.root_radius > 0:
            found.append((f"{kind} ground, in its rounded root", form.ground))
        found += [(f"{kind} lead", form.lead)] if form.starts > 1 else []
    return (*found, *_pocket_sizes(entry))


def _pocket_sizes(entry: Entry) -> tuple[tuple[str, float], ...]:
    """What a pocket named for a screw measures, and whose head, nut or washer it takes."""
    found: list[tuple[str, float]] = []
    for claim in entry.all("counterbore", "countersink"):
        if named := pocket_name(claim):
            found.append((f"{named} ({claim.word_of('standard')}) across", claim.number("number")))
            found += [(f"{named} deep", claim.number("depth"))] if claim.word == "counterbore" else []
    return tuple(found)


def _gear_sizes(gear: Gear) -> tuple[tuple[str, float], ...]:
    found = [("module", gear.module), ("pitch circle", gear.pitch), ("feet across", gear.root)]
    found.append(("between the tips" if gear.inside else "over the tips", gear.over_tips))
    found.append(("tip circle", gear.tip))
    if not gear.inside:
        found.append((f"span over {gear.spanned} teeth", gear.span(gear.spanned)))
    if gear.helix == 0.0:
        # The pin nearest to the usual one that a set of drills in tenths holds.
        pin = max(0.5, round(gear.pin, 1))
        found.append((f"{'between' if gear.inside else 'over'} pins of {pin:g}", gear.over_pins(pin)))
    return tuple(found)


def _rack_sizes(one: BlockRack) -> list[tuple[str, float]]:
    rack, said = one.found.rack, f"rack {one.found.where}"
    found = [(f"{said}, {one.row.whole} whole teeth, module", rack.module), (f"{said}, pitch", rack.pitch)]
    if one.over > 1:
        found.append((f"{said}, pitch over {one.over} teeth", one.over * rack.pitch))
    found += [
        (f"{said}, depth", rack.depth),
        (f"{said}, tooth on the pitch line", rack.thickness),
        (f"{said}, pitch line over {one.foot}", one.line),
    ]
    if one.over_pin is not None:
        found.append((f"{said}, a pin of {rack.pin:g} over {one.foot}", one.over_pin))
    return found


def _standing(entry: Entry) -> Standing:
    from ..facts import Measure

    found = Standing.READ
    for claim in (one for one in entry.claims if one.word not in _TRIMMINGS):
        for _, value in claim.values:
            standing = (
                value.made.standing
                if isinstance(value, Measure)
                else getattr(value, "standing", Standing.READ)
            )
            found = max(found, standing)
    return found


def _density(name: str | None) -> float | None:
    if name is None:
        return None
    try:
        return plastic(name).density
    except Trouble:
        return None
