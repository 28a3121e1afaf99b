"""What is written at a zone, dimensioned and measured of it."""

from __future__ import annotations

from collections.abc import Iterator

from ...kinds.types import FLATS
from ...model.types import Body
from ...model.zones import Band, CollarAt, LineBand, Zone
from ...quantities import Quantity
from .amounts import amount, shown, wanted
from .lettering import DIAMETER
from .measuring import made, plain
from .pointers import on_faces
from .types import Check, Dimension, Gauge, Note
from .views import Scene


def zone_notes(scene: Scene, zone: Zone) -> Iterator[Note]:
    """How wide a band or collar is, and how it is made."""
    how = zone.by or zone.overall
    if isinstance(zone.area, Band | LineBand) and zone.wide is not None and how is not None:
        deep = f"{zone.how.word} {shown(how.value)}" + (" overall" if zone.overall is not None else "")
        text = f"{zone.name} wide {shown(zone.wide.value)}, {deep}"
        yield from on_faces(scene, zone, text, face=scene.way((0.0, 0.0, 1.0)))
    about = scene.model.things[zone.about[0].thing]
    if not isinstance(zone.area, CollarAt) or zone.wide is None or about.spot is None:
        return
    frame, size = scene.model.frames[about.spot.plane], amount(zone.wide)
    place = scene.place(frame, about.spot.at, about.spot.base)
    ramp = f", ramp {shown(zone.ramp.value)}" if zone.ramp is not None else ""
    text = f"{zone.name} {size.text(DIAMETER)}{ramp}"
    yield Note(zone.name, place, 0.5 * size.value, text, scene.way(frame.out))


def zone_sizes(scene: Scene, zone: Zone, sign: int) -> Iterator[Dimension]:
    """How far a zone moves its flat (`sign` -1: into the body), or how thick the body is then."""
    spot, body = scene.model.things[zone.about[0].thing].spot, scene.model.things[zone.body]
    if spot is None or not isinstance(body, Body) or zone.part not in FLATS or spot.plane != body.plane:
        return
    front = zone.part == "front"
    if zone.overall is not None:
        size, far = zone.overall, body.low if front else body.high
        start, stop = (far, far + size.value) if front else (far - size.value, far)
    else:
        assert zone.by is not None
        size, flat = zone.by, body.high if front else body.low
        start, stop = flat, flat + (sign if front else -sign) * size.value
    reach = 0.5 * zone.area.across if isinstance(zone.area, CollarAt) else 0.0
    pairs = []
    for dx, dy in ((reach, 0.0), (-reach, 0.0), (0.0, reach), (0.0, -reach)):
        at = (spot.at[0] + dx, spot.at[1] + dy)
        pairs.append((scene.place(body.frame, at, start), scene.place(body.frame, at, stop)))
    standing = max(size.standing, wanted(1.0).standing)
    said = amount(Quantity(abs(stop - start), 0.0, standing))
    yield Dimension(zone.name, tuple(pairs), said.text(), said.value, None, scene.way(body.frame.out))


def zone_checks(zone: Zone) -> Iterator[Check]:
    """How thick the body is at the zone, where that was told."""
    if zone.overall is not None:
        size, line = wanted(zone.overall.value), made(zone.overall.said)
        yield plain(f"{zone.name} overall", Gauge.SIZE, "outer jaws over the place", size, line)
