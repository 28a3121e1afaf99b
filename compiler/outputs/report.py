"""The figures of a finished part: as a table that a person reads, and as JSON with fixed keys."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from ..diagnostics.cells import harmless
from .measured import measured_json, measured_table
from .tables import SEEN, aligned, finite, rounded, shown
from .types import Feature, PartReport

if TYPE_CHECKING:
    from ..callipers import HowItRuns
    from ..places.reading_weights import ReadingShare, WeighedPlace, WeighedSize

UPRIGHT = 1.0 - 1e-9  # cosine: an axis is along x, y or z
_WHICH_WAY = "which way things run"
_AS_READ = ", as they were read (the part is the other hand)"
_OTHER_HAND = "the other hand: what was read, mirrored left to right"


def report_json(report: PartReport) -> str:
    """The part as one JSON object with sorted keys, ASCII only, a line end at the last.

    Raises ValueError for a number that is none (JSON has no word for it) or for two features of one name.
    """
    figures = report.figures
    features = {feature.name: _feature(feature) for feature in report.features}
    if len(features) != len(report.features):
        raise ValueError("two features of one name")
    said = {
        "title": report.title,
        "box": [rounded(size) for size in figures.box],
        "volume_mm3": rounded(figures.volume),
        "area_mm2": rounded(figures.area),
        "watertight": figures.watertight,
        "pieces": figures.pieces,
        "genus": figures.genus,
        **({"hollows": figures.hollows} if figures.hollows else {}),
        "triangles": figures.triangles,
        "mass_g": None if report.mass_g is None else rounded(report.mass_g),
        "plastic": report.plastic,
        "features": features,
        "off": report.copies,
        "other_hand": report.other_hand,
        **({"prints_on": report.prints_on} if report.prints_on else {}),
        **({"loads": [_load(*load) for load in report.loads]} if report.loads else {}),
        "angles": {f"{name}.{what}": rounded(turn) for name, what, turn in report.angles},
        "sizes": {f"{one.name}.{one.word}": size_json(one) for one in report.sizes},
        "ways": {one.thing: one.text for one in report.ways},
        "measured": measured_json(report.measured),
    }
    import json

    return json.dumps(said, sort_keys=True, indent=2, allow_nan=False) + "\n"


def _way(one: HowItRuns) -> tuple[str, str]:
    return f"{one.noun} {one.thing}", one.text


def _load(text: str, across: bool) -> dict[str, object]:
    return {"load": text, "across_layers": across}


def _feature(feature: Feature) -> dict[str, object]:
    sizes: dict[str, object] = {}
    if feature.sizes:
        sizes["sizes"] = {name: rounded(value) for name, value in feature.sizes}
    if feature.axis is not None:
        sizes["axis"] = [rounded(one) for one in feature.axis]
    return sizes | {
        "kind": feature.kind,
        "plane": feature.plane,
        "x": rounded(feature.x),
        "y": rounded(feature.y),
        "z": rounded(feature.z),
        "across": None if feature.across is None else rounded(feature.across),
        "standing": feature.standing.name.lower(),
        "place": None if feature.place is None else place_json(feature.place),
    }


def report_text(report: PartReport) -> str:
    """The part as aligned lines for a terminal or a notebook, harmless to either; a line end at the last."""
    rows = [harmless(report.title), *aligned(_summary(report), "  ", ("", ""))]
    if report.features:
        rows += ["", *_feature_table(report.features)]
    if report.sizes:
        rows += ["", *size_table(report.sizes)]
        rows += [
            "",
            "  +-: how well it is known, about 95 of 100; which reading that stems from:  makegood readings",
        ]
    if report.ways:
        rows += [
            "",
            _WHICH_WAY + (_AS_READ if report.other_hand else ""),
            *aligned([_way(one) for one in report.ways], "  ", ("", "")),
        ]
    if report.measured:
        rows += ["", *measured_table(report.measured)]
    checked = [(one.name, what, f"{shown(value)} mm") for one in report.features for what, value in one.sizes]
    checked += [(name, what, f"{shown(turn)} deg") for name, what, turn in report.angles]
    if checked:
        rows += ["", *aligned(checked, "  ", ("", "", ">"))]
    if report.notes:
        rows += ["", *(f"  note: {harmless(note)}" for note in report.notes)]
    return "\n".join(rows) + "\n"


def _feature_table(features: Sequence[Feature]) -> list[str]:
    """Places and sizes across; how well a place is known only where that was asked; axes only where one is
    not along z.
    """
    head = ("name", "kind", "plane", "x", "y", "z", "axis", "+-", "across", "standing")
    rows: list[tuple[str, ...]] = [head, *map(_table_row, features)]
    sides: tuple[str, ...] = ("", "", "", ">", ">", ">", "", ">", ">", "")
    idle = ([7] if all(feature.place is None for feature in features) else []) + (
        [6] if all(feature.axis is None or feature.axis[2] > UPRIGHT for feature in features) else []
    )
    for column in idle:
        rows, sides = (
            [(*row[:column], *row[column + 1 :]) for row in rows],
            (*sides[:column], *sides[column + 1 :]),
        )
    return aligned(rows, "  ", sides)


def _axis(feature: Feature) -> str:
    """The way a hole runs: one of x, y, z, or its direction."""
    if feature.axis is None:
        return ""
    along = [letter for letter, share in zip("xyz", feature.axis, strict=True) if abs(share) > UPRIGHT]
    return along[0] if along else " ".join(shown(share) for share in feature.axis)


def _summary(report: PartReport) -> list[tuple[str, ...]]:
    figures = report.figures
    rows: list[tuple[str, ...]] = [
        ("recipe", report.source_name),
        *([("hand", _OTHER_HAND)] if report.other_hand else []),
        ("size", " x ".join(shown(size) for size in figures.box) + " mm"),
        ("volume", f"{shown(figures.volume / 1000.0)} cm3"),
        ("surface", f"{shown(figures.area / 100.0)} cm2"),
        *_mass(report),
        ("solid", _topology(report)),
    ]
    if report.copies != 1:
        rows.append(("make", f"off {report.copies}"))
    rows += [("prints on", report.prints_on)] if report.prints_on else []
    rows += [("load", text + (", across the layers" if across else "")) for text, across in report.loads]
    return rows


def _mass(report: PartReport) -> list[tuple[str, ...]]:
    """What is known of plastic and mass, one row or none."""
    of = "" if report.density is None else f" at {shown(report.density)} g/cm3"
    if report.mass_g is None:
        return [] if report.plastic is None else [("plastic", report.plastic + of)]
    name = "" if report.plastic is None else f" in {report.plastic}"
    each = "" if report.copies == 1 else f", {shown(report.mass_g * report.copies)} g for {report.copies}"
    return [("mass", f"{shown(report.mass_g)} g printed solid{name}{of}{each}")]


def _topology(report: PartReport) -> str:
    figures = report.figures
    closed = "watertight" if figures.watertight else "NOT watertight"
    parts = [closed, _counted(figures.pieces, "piece"), f"{_counted(figures.genus, 'opening')} through"]
    parts += [_counted(figures.hollows, "closed hollow")] if figures.hollows else []
    return ", ".join([*parts, _counted(figures.triangles, "triangle")])


def _counted(count: int, thing: str) -> str:
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"


def _table_row(feature: Feature) -> tuple[str, ...]:
    place = (shown(feature.x), shown(feature.y), shown(feature.z))
    across = "-" if feature.across is None else shown(feature.across)
    known = feature.place
    give = "" if known is None or known.expanded < SEEN else shown(known.expanded)
    return (
        feature.name,
        feature.kind,
        feature.plane,
        *place,
        _axis(feature),
        give,
        across,
        feature.standing.name.lower(),
    )


def size_table(sizes: Sequence[WeighedSize]) -> list[str]:
    """Every size of a recipe: as made, as read, how well, what all readings agree on, and its standing."""
    head = ("size", "made", "read", "+-", "all agree on", "standing")
    return aligned([head, *map(_size_row, sizes)], "  ", ("", ">", ">", ">", ">", ""))


def _size_row(one: WeighedSize) -> tuple[str, ...]:
    over = f" over {one.over}" if one.over != 1 else ""
    read = "-" if one.read is None else shown(one.read) + over
    give = "-" if one.read is None else shown(one.expanded)
    fitted = (
        ""
        if one.fitted is None or one.read is None or abs(one.fitted - one.read) < SEEN
        else shown(one.fitted)
    )
    return (f"{one.name} {one.word}", shown(one.made), read, give, fitted, one.standing.name.lower())


def place_json(place: WeighedPlace) -> dict[str, object]:
    """How well a place is known: u and U in mm along the worst direction (null: open), that direction, what
    it stems from.
    """
    return {
        "u": finite(place.expanded / 2),
        "U": finite(place.expanded),
        "worst_deg": rounded(place.worst),
        "from": sources_json(place.by),
    }


def sources_json(by: Iterable[ReadingShare]) -> list[dict[str, object]]:
    """The readings an uncertainty stems from, greatest share first."""
    return [{"thing": one.name, "line": one.text, "share": rounded(one.share)} for one in by]


def size_json(one: WeighedSize) -> dict[str, object]:
    """A size as made and as read (null: never read; `over` so many pitches or teeth), u and U of that, and
    its standing.
    """
    return {
        "made": rounded(one.made),
        "read": None if one.read is None else rounded(one.read),
        "fitted": None if one.fitted is None else rounded(one.fitted),
        "u": rounded(one.expanded / 2),
        "U": rounded(one.expanded),
        "standing": one.standing.name.lower(),
        "over": one.over,
    }
