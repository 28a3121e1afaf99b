"""What all readings of a recipe come to: as tables that a person can follow, and as JSON with fixed keys."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence

from ..callipers import Taken
from ..diagnostics.cells import harmless
from ..places.reading_weights import ReadingShare, Weighed, WeighedPlane, WeighedReading
from .measured import measured_json, on_mesh
from .report import place_json, size_json, size_table, sources_json
from .tables import SEEN, aligned, finite, rounded, shown

NOTHING = "there are no readings of places here: every size is taken as it stands"
SHARE_SHOWN = 0.15
_VERDICTS = {"unchecked": "nothing checks it", "suspect": "SUSPECT"}


def readings_text(weighed: Weighed, title: str, taken: Sequence[Taken] = ()) -> str:
    """Tables: readings, places, spacings, double readings, weak geometry, round sizes, sizes; a line end at
    the last.  `taken`: what was taken again from the mesh, where a part was made.
    """
    lines = [harmless(title)]
    if not weighed.pages:
        lines += ["", NOTHING]
    for page in weighed.pages:
        lines += ["", *_page(page, taken)]
    if weighed.sizes:
        lines += ["", "sizes", *size_table(weighed.sizes)]
    if weighed.pages or weighed.sizes:
        lines += ["", *_legend()]
    return "\n".join(lines) + "\n"


def _legend() -> list[str]:
    return [
        (
            "off: fitted less given.  +- in the readings: the limit "
            "taken for each (u = limit / sqrt 3, JCGM 100, 4.3.7);"
        ),
        (
            "+- elsewhere: U = 2 u, about 95 of 100.  seen from: a "
            "slip this large would be noticed in four cases of five."
        ),
    ]


def _page(page: WeighedPlane, taken: Sequence[Taken]) -> Iterator[str]:
    if page.skipped:
        yield f"{_of(page)}: too many things to weigh one by one; they were fitted all the same"
        return
    counted = f", places counted from {' and '.join(page.datum)}" if page.datum else ""
    yield f"{_of(page)}{counted}"
    rows = [_reading_row(one, taken) for one in page.readings]
    table: list[tuple[str, ...]] = [_HEAD, *rows, ("", "", ">", ">", ">", ">", ">", ">", "")]
    if not any(row[_ON_MESH] for row in rows):
        table = [(*row[:_ON_MESH], *row[_ON_MESH + 1 :]) for row in table]
    yield from aligned(table[:-1], "  ", table[-1])
    yield f"  {_together(page)}"
    if not page.detailed:
        yield (
            "  there are so many things that it is not told which reading each place owes its give-or-take to"
        )
    for name, section in _SECTIONS.items():
        if not page.agrees and name not in _ALSO_IN_DISAGREEMENT:
            continue
        told = list(section(page))
        if told:
            yield ""
            yield name
            yield from told


def _of(page: WeighedPlane) -> str:
    return f"readings on {page.page}" if page.page != "sheet" else "readings"


_ALSO_IN_DISAGREEMENT = ("read over both edges",)


_HEAD = ("thing", "reading", "given", "fitted", "on mesh", "off", "+-", "seen from", "verdict")
_ON_MESH = _HEAD.index("on mesh")


def _reading_row(one: WeighedReading, taken: Sequence[Taken]) -> tuple[str, ...]:
    unit = " deg" if one.degrees else ""
    slip = "never" if math.isinf(one.slip) else shown(one.slip)
    back = on_mesh(taken, one.name, one.text, one.way)
    found = "" if back is None or back.found is None else shown(back.found) + unit
    start = (one.name, one.told, shown(one.given) + unit, shown(one.fitted) + unit, found)
    if one.verdict == "wanted":
        return (*start, "", "", "", "as wanted")
    return (*start, shown(one.residual, "+"), shown(one.give), slip, _VERDICTS.get(one.verdict, one.verdict))


def _together(page: WeighedPlane) -> str:
    if page.freedoms < 1:
        return "nothing is read twice: every reading is met as it stands, and none checks another"
    count = f"{page.freedoms} more than needed, chi-square {page.total:.1f}"
    if page.agrees:
        return f"all together they agree: {count}"
    return f"together they do NOT agree: {count}; places are told when they do"


def _places(page: WeighedPlane) -> list[str]:
    rows = []
    for one in page.places:
        size = "open" if math.isinf(one.expanded) else f"+-{shown(one.expanded)}"
        if one.expanded < SEEN:
            rows.append((one.name, "", "", "places are counted from here"))
        else:
            rows.append((one.name, size, "" if math.isinf(one.expanded) else _way(one.worst), _owed(one.by)))
    return aligned(rows, "  ", ("", ">", "", "")) if rows else []


def _way(angle: float) -> str:
    """A direction on the page in words, to the nearest eighth of a turn."""
    return ("across", "towards upper right", "up and down", "towards upper left")[round(angle / 45.0) % 4]


def _owed(by: Sequence[ReadingShare]) -> str:
    if not by:
        return ""
    told = [one for one in by if one.share >= SHARE_SHOWN][:2]
    return "mostly from " + " and ".join(f"`{one.text}` of {one.name}" for one in told) if told else ""


def _spacings(page: WeighedPlane) -> list[str]:
    rows = [
        (
            f"{one.first} to {one.second}",
            f"{shown(one.apart)} +-{shown(one.expanded)}",
            f"wall {shown(one.wall)} +-{shown(one.wall_expanded)}",
            _owed(one.by),
        )
        for one in page.spacings
    ]
    return aligned(rows, "  ", ("", ">", ">", "")) if rows else []


def _doubles(page: WeighedPlane) -> Iterator[str]:
    for one in page.doubles:
        verdict = "agrees" if one.agrees else "does NOT agree"
        yield harmless(
            f"  {one.name}: `{one.outer}` less `{one.inner}` is {shown(one.difference)}; "
            f"the sizes as read make it {shown(one.sizes)} +-{shown(one.give)}: {verdict}"
        )


def _unchecked(page: WeighedPlane) -> Iterator[str]:
    for one in page.readings:
        if one.verdict == "unchecked" and one.moved and one.moves > SEEN:
            moves = f"moves {one.moved} by {shown(one.moves)} unseen"
            yield harmless(f"  `{one.told}` of {one.name}: 0.10 wrong there {moves}")


def _weak(page: WeighedPlane) -> Iterator[str]:
    for one in page.weak:
        better = f"; better: {one.better} would hold it to +-{shown(one.expanded)}" if one.better else ""
        yield harmless(
            f"  {one.moved} moves {shown(one.moves)} for each 0.10 in `{one.text}` of {one.name}{better}"
        )


def _rounds(page: WeighedPlane) -> list[str]:
    rows = [
        (one.what, f"{shown(one.value)} +-{shown(one.expanded)}", f"-> {one.offer}", f"write:  {one.accept}")
        for one in page.rounds
    ]
    return aligned(rows, "  ", ("", ">", "", "")) if rows else []


_SECTIONS: dict[str, Callable[[WeighedPlane], Iterable[str]]] = {
    "places": _places,
    "between holes": _spacings,
    "read over both edges": _doubles,
    "nothing checks": _unchecked,
    "weak geometry": _weak,
    "round sizes that fit, if you want them": _rounds,
}


def readings_json(weighed: Weighed, title: str, taken: Sequence[Taken] = ()) -> str:
    """The same as one JSON object with sorted keys, ASCII only; what is without limit is null."""
    import json

    said = {
        "title": title,
        "pages": [_page_json(page, taken) for page in weighed.pages],
        "sizes": {f"{one.name}.{one.word}": size_json(one) for one in weighed.sizes},
        "measured": measured_json(taken),
    }
    return json.dumps(said, sort_keys=True, indent=2, allow_nan=False) + "\n"


def _page_json(page: WeighedPlane, taken: Sequence[Taken]) -> dict[str, object]:
    return {
        "page": page.page,
        "datum": list(page.datum),
        "agrees": page.agrees,
        "chi_square": rounded(page.total),
        "redundant": page.freedoms,
        "skipped": page.skipped,
        "detailed": page.detailed,
        "readings": _readings_json(page, taken),
        "places": {one.name: place_json(one) for one in page.places},
        "between": _between_json(page),
        "doubles": _doubles_json(page),
        "weak": _weak_json(page),
        "round": [
            {
                "what": one.what,
                "value": rounded(one.value),
                "U": rounded(one.expanded),
                "offer": one.offer,
                "accept": one.accept,
            }
            for one in page.rounds
        ],
    }


def _readings_json(page: WeighedPlane, taken: Sequence[Taken]) -> list[dict[str, object]]:
    return [
        {
            "thing": one.name,
            "line": one.text,
            "way": one.way,
            "unit": "deg" if one.degrees else "mm",
            "given": rounded(one.given),
            "fitted": rounded(one.fitted),
            "on_mesh": _on_mesh_json(one, taken),
            "off": rounded(one.residual),
            "limit": rounded(one.give),
            "redundancy": rounded(one.redundancy),
            "seen_from": finite(one.slip),
            "moves_per_tenth": finite(one.moves),
            "moves": one.moved,
            "verdict": one.verdict,
        }
        for one in page.readings
    ]


def _on_mesh_json(one: WeighedReading, taken: Sequence[Taken]) -> float | None:
    back = on_mesh(taken, one.name, one.text, one.way)
    return None if back is None or back.found is None else rounded(back.found)


def _between_json(page: WeighedPlane) -> list[dict[str, object]]:
    return [
        {
            "first": one.first,
            "second": one.second,
            "apart": rounded(one.apart),
            "U": finite(one.expanded),
            "wall": rounded(one.wall),
            "wall_U": finite(one.wall_expanded),
            "from": sources_json(one.by),
        }
        for one in page.spacings
    ]


def _doubles_json(page: WeighedPlane) -> list[dict[str, object]]:
    return [
        {
            "thing": one.name,
            "to": one.other,
            "outer": one.outer,
            "inner": one.inner,
            "difference": rounded(one.difference),
            "sizes": rounded(one.sizes),
            "limit": rounded(one.give),
            "agrees": one.agrees,
        }
        for one in page.doubles
    ]


def _weak_json(page: WeighedPlane) -> list[dict[str, object]]:
    return [
        {
            "moves": one.moved,
            "per_tenth": rounded(one.moves),
            "thing": one.name,
            "line": one.text,
            "better": one.better,
            "U_then": finite(one.expanded),
        }
        for one in page.weak
    ]
