"""The figures of a finished part: as a table that a person reads, and as JSON with fixed keys."""

from __future__ import annotations

from collections.abc import Sequence

from ..diagnostics.cells import columns, harmless
from .types import Feature, PartReport

_DECIMALS = 6  # of all numbers in the JSON
_SHOWN = 2  # of lengths in the table: what callipers show


def rounded(value: float) -> float:
    """The value to 1e-6, never -0.0: the one rounding of all reported numbers."""
    return round(float(value), _DECIMALS) + 0.0


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
        "triangles": figures.triangles,
        "mass_g": None if report.mass_g is None else rounded(report.mass_g),
        "plastic": report.plastic,
        "features": features,
        "off": report.copies,
    }
    import json

    return json.dumps(said, sort_keys=True, indent=2, allow_nan=False) + "\n"


def _feature(feature: Feature) -> dict[str, object]:
    return {
        "kind": feature.kind,
        "plane": feature.plane,
        "x": rounded(feature.x),
        "y": rounded(feature.y),
        "z": rounded(feature.z),
        "across": None if feature.across is None else rounded(feature.across),
    }


def report_text(report: PartReport) -> str:
    """The part as aligned lines for a terminal or a notebook, harmless to either; a line end at the last."""
    rows = [harmless(report.title), *_aligned(_summary(report), "  ", ("", ""))]
    if report.features:
        head = ("name", "kind", "plane", "x", "y", "z", "across", "standing")
        body = [_table_row(feature) for feature in report.features]
        rows += ["", *_aligned([head, *body], "  ", ("", "", "", ">", ">", ">", ">", ""))]
    if report.notes:
        rows += ["", *(f"  note: {harmless(note)}" for note in report.notes)]
    return "\n".join(rows) + "\n"


def _summary(report: PartReport) -> list[tuple[str, ...]]:
    figures = report.figures
    rows: list[tuple[str, ...]] = [
        ("recipe", report.source_name),
        ("size", " x ".join(_shown(size) for size in figures.box) + " mm"),
        ("volume", f"{_shown(figures.volume / 1000.0)} cm3"),
        ("surface", f"{_shown(figures.area / 100.0)} cm2"),
        *_mass(report),
        ("solid", _topology(report)),
    ]
    if report.copies != 1:
        rows.append(("make", f"off {report.copies}"))
    return rows


def _mass(report: PartReport) -> list[tuple[str, ...]]:
    """What is known of plastic and mass, one row or none."""
    of = "" if report.density is None else f" at {_shown(report.density)} g/cm3"
    if report.mass_g is None:
        return [] if report.plastic is None else [("plastic", report.plastic + of)]
    name = "" if report.plastic is None else f" in {report.plastic}"
    each = "" if report.copies == 1 else f", {_shown(report.mass_g * report.copies)} g for {report.copies}"
    return [("mass", f"{_shown(report.mass_g)} g printed solid{name}{of}{each}")]


def _topology(report: PartReport) -> str:
    figures = report.figures
    closed = "watertight" if figures.watertight else "NOT watertight"
    parts = [closed, _counted(figures.pieces, "piece"), f"{_counted(figures.genus, 'opening')} through"]
    return ", ".join([*parts, _counted(figures.triangles, "triangle")])


def _counted(count: int, thing: str) -> str:
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"


def _table_row(feature: Feature) -> tuple[str, ...]:
    place = (_shown(feature.x), _shown(feature.y), _shown(feature.z))
    across = "-" if feature.across is None else _shown(feature.across)
    return (feature.name, feature.kind, feature.plane, *place, across, feature.standing.name.lower())


def _shown(value: float) -> str:
    return f"{round(rounded(value), _SHOWN) + 0.0:.{_SHOWN}f}"


def _aligned(rows: Sequence[tuple[str, ...]], indent: str, sides: Sequence[str]) -> list[str]:
    """Rows of cells under one another, two blanks between; `sides` holds `>` for a column flush right."""
    cells = [[harmless(cell) for cell in row] for row in rows]
    widths = [max(columns(cell) for cell in column) for column in zip(*cells, strict=True)]
    lines = []
    for row in cells:
        padded = [
            " " * (width - columns(cell)) + cell if side else cell + " " * (width - columns(cell))
            for cell, width, side in zip(row, widths, sides, strict=True)
        ]
        lines.append((indent + "  ".join(padded)).rstrip())
    return lines
