"""Metric screws M1 to M12: thread, holes for them, heads, nuts and washers.  All sizes in mm.

Sources, by column of `_ROWS` and `_HEADS`.  The standards themselves are priced and were not read; the values
are those of two to four published tables that agree, and where tables differ the better-supported figure
stands (see the tests).

- pitch: ISO 261 / ISO 262, coarse series
- tap drill: ISO 2306
- clearance fine, medium, coarse: ISO 273 (H12, H13, H14)
- socket head: ISO 4762; largest head across (plain), least, height, key, least depth of the key
- nut: ISO 4032; across flats largest and least, corners least, height largest and least.  Not the withdrawn
DIN 934
  (M10 17, M12 19 across flats), though an old nut may still be one
- washer: ISO 7089; hole least, across largest, thickness
- counterbore: diameters of tables that follow DIN 974-1
- countersunk, hexagon socket: ISO 10642; head across its theoretical sharp edge, and height, 90 degrees
- countersunk, cross recess: ISO 7046; largest real head, and height, 90 degrees"""

from __future__ import annotations

import re

from msgspec import Struct

from .unknown import spelt_alike, unknown


class Clearance(Struct, frozen=True):
    """Holes that a screw passes through freely, ISO 273."""

    fine: float
    medium: float
    coarse: float


class SocketHead(Struct, frozen=True):
    """Cylinder head with hexagon socket, ISO 4762; `key` across flats, `key_depth` least."""

    across_most: float
    across_least: float
    height: float
    key: float
    key_depth: float


class Nut(Struct, frozen=True):
    """Hexagon nut, ISO 4032: across flats, least across corners, height."""

    flats_most: float
    flats_least: float
    corners_least: float
    height_most: float
    height_least: float


class Washer(Struct, frozen=True):
    """Plain washer, ISO 7089."""

    hole: float
    across: float
    thick: float


class SunkHead(Struct, frozen=True):
    """Countersunk head of 90 degrees.

    `sharp` is across the edge that the cone would have if it were not blunted: what a sink must be for the
    head to lie flush.  `across` is the largest real head, None where it is not in the table."""

    sharp: float
    height: float
    across: float | None = None


class Screw(Struct, frozen=True):
    """One thread size and all that is standardised about it here; None where the table ends before this
    size.
    """

    name: str
    across: float
    pitch: float
    tap_drill: float
    clearance: Clearance | None = None
    socket_head: SocketHead | None = None
    nut: Nut | None = None
    washer: Washer | None = None
    counterbore: float | None = None
    sunk_socket: SunkHead | None = None
    sunk_cross: SunkHead | None = None


# across, pitch, tap drill, clearance
_ROWS: tuple[tuple[float, float, float, Clearance | None], ...] = (
    (1.0, 0.25, 0.75, None),
    (1.2, 0.25, 0.95, None),
    (1.4, 0.3, 1.1, None),
    (1.6, 0.35, 1.25, Clearance(1.7, 1.8, 2.0)),
    (1.8, 0.35, 1.45, None),
    (2.0, 0.4, 1.6, Clearance(2.2, 2.4, 2.6)),
    (2.5, 0.45, 2.05, Clearance(2.7, 2.9, 3.1)),
    (3.0, 0.5, 2.5, Clearance(3.2, 3.4, 3.6)),
    (3.5, 0.6, 2.9, Clearance(3.7, 3.9, 4.2)),
    (4.0, 0.7, 3.3, Clearance(4.3, 4.5, 4.8)),
    (5.0, 0.8, 4.2, Clearance(5.3, 5.5, 5.8)),
    (6.0, 1.0, 5.0, Clearance(6.4, 6.6, 7.0)),
    (7.0, 1.0, 6.0, Clearance(7.4, 7.6, 8.0)),
    (8.0, 1.25, 6.8, Clearance(8.4, 9.0, 10.0)),
    (10.0, 1.5, 8.5, Clearance(10.5, 11.0, 12.0)),
    (12.0, 1.75, 10.2, Clearance(13.0, 13.5, 14.5)),
)

# socket head, nut, washer, counterbore
_HEADS: dict[float, tuple[SocketHead, Nut, Washer, float]] = {
    1.6: (SocketHead(3.0, 2.86, 1.6, 1.5, 0.7), Nut(3.2, 3.02, 3.41, 1.3, 1.05), Washer(1.7, 4.0, 0.3), 3.5),
    2.0: (SocketHead(3.8, 3.62, 2.0, 1.5, 1.0), Nut(4.0, 3.82, 4.32, 1.6, 1.35), Washer(2.2, 5.0, 0.3), 4.4),
    2.5: (SocketHead(4.5, 4.32, 2.5, 2.0, 1.1), Nut(5.0, 4.82, 5.45, 2.0, 1.75), Washer(2.7, 6.0, 0.5), 5.5),
    3.0: (SocketHead(5.5, 5.32, 3.0, 2.5, 1.3), Nut(5.5, 5.32, 6.01, 2.4, 2.15), Washer(3.2, 7.0, 0.5), 6.5),
    4.0: (SocketHead(7.0, 6.78, 4.0, 3.0, 2.0), Nut(7.0, 6.78, 7.66, 3.2, 2.9), Washer(4.3, 9.0, 0.8), 8.0),
    5.0: (SocketHead(8.5, 8.28, 5.0, 4.0, 2.5), Nut(8.0, 7.78, 8.79, 4.7, 4.4), Washer(5.3, 10.0, 1.0), 10.0),
    6.0: (
        SocketHead(10.0, 9.78, 6.0, 5.0, 3.0),
        Nut(10.0, 9.78, 11.05, 5.2, 4.9),
        Washer(6.4, 12.0, 1.6),
        11.0,
    ),
    8.0: (
        SocketHead(13.0, 12.73, 8.0, 6.0, 4.0),
        Nut(13.0, 12.73, 14.38, 6.8, 6.44),
        Washer(8.4, 16.0, 1.6),
        15.0,
    ),
    10.0: (
        SocketHead(16.0, 15.73, 10.0, 8.0, 5.0),
        Nut(16.0, 15.73, 17.77, 8.4, 8.04),
        Washer(10.5, 20.0, 2.0),
        18.0,
    ),
    12.0: (
        SocketHead(18.0, 17.73, 12.0, 10.0, 6.0),
        Nut(18.0, 17.73, 20.03, 10.8, 10.37),
        Washer(13.0, 24.0, 2.5),
        20.0,
    ),
}

_SUNK_SOCKET = {
    3.0: SunkHead(6.72, 1.86),
    4.0: SunkHead(8.96, 2.48),
    5.0: SunkHead(11.2, 3.1),
    6.0: SunkHead(13.44, 3.72),
    8.0: SunkHead(17.92, 4.96),
    10.0: SunkHead(22.4, 6.2),
    12.0: SunkHead(26.88, 7.44),
}
# largest real head, height; the sharp edge follows from a cone of 90 degrees: thread across + 2 heights
_SUNK_CROSS = {
    2.0: (3.8, 1.2),
    2.5: (4.7, 1.5),
    3.0: (5.5, 1.65),
    3.5: (7.3, 2.35),
    4.0: (8.4, 2.7),
    5.0: (9.3, 2.7),
    6.0: (11.3, 3.3),
    8.0: (15.8, 4.65),
    10.0: (18.3, 5.0),
}


def _screw(across: float, pitch: float, tap_drill: float, clearance: Clearance | None) -> Screw:
    """The row of one size, gathered from all tables."""
    head, nut, washer, counterbore = _HEADS.get(across, (None, None, None, None))
    real, height = _SUNK_CROSS.get(across, (None, 0.0))
    cross = None if real is None else SunkHead(round(across + 2.0 * height, 3), height, real)
    return Screw(
        f"M{across:g}",
        across,
        pitch,
        tap_drill,
        clearance,
        head,
        nut,
        washer,
        counterbore,
        _SUNK_SOCKET.get(across),
        cross,
    )


SCREWS: dict[str, Screw] = {made.name: made for made in (_screw(*row) for row in _ROWS)}

_SIZE = re.compile(r"[mM]\s*([0-9]{1,4}(?:\.[0-9]{0,4})?)")


def screw(name: str) -> Screw:
    """The screw of that name: `M4`, `m4`, `M 2.5`.

    Raises Trouble('unknown-screw') for anything else - `M2,5`, a length behind the size - with what may be
    meant."""
    seen = _SIZE.fullmatch(name.strip())
    found = SCREWS.get(f"M{float(seen[1]):g}") if seen else None
    if found is None:
        raise unknown("screw", name, SCREWS, _may_be_meant(name))
    return found


def _may_be_meant(name: str) -> list[str]:
    """Sizes that the name may stand for: the size it holds, else its neighbours, else names spelt alike."""
    number = re.match(r"\s*[mM]?\s*([0-9]{1,4}(?:[.,][0-9]{1,4})?)", name)
    if number is None:
        return spelt_alike(name, SCREWS)
    across = float(number[1].replace(",", "."))
    if f"M{across:g}" in SCREWS:
        return [f"M{across:g}"]
    smaller = [made.name for made in SCREWS.values() if made.across < across][-1:]
    larger = [made.name for made in SCREWS.values() if made.across > across][:1]
    return smaller + larger
