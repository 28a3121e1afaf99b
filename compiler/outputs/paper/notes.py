"""Notes of a drawing: what a hole, a round, an edge or a small body is, at the end of a leader."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec.structs import replace

from ...facts import Claim, Entry
from ...facts.needs import CENTRED, THREAD_WORDS
from ...facts.pockets import pocket_name
from ...kinds import own_bodies, own_file
from ...outlines.racks import BlockRack, block_racks
from ...quantities.vectors import Vector, cross
from ..slopes import slopes
from .amounts import Amount, amount, flat_amount, hole_amount, shown
from .lettering import DIAMETER
from .notes_types import Note
from .relations import finished_way
from .screwed import designation, windings, wound
from .turned import Axis
from .views import Scene, finished
from .worked import lettered_text, on_turning, owner, slope_note, toothed_text, way_of_mark

NEAR = 1e-3  # mm


def notes(scene: Scene) -> list[Note]:
    """Every note of a part."""
    found = [one for entry in scene.claims.entries.values() for one in _Notes(scene, entry).all() if one.text]
    found += [one.note() for one in scene.circles() if one.text]
    found += [note for one in slopes(scene.model) if (note := slope_note(scene, one)) is not None]
    alike: dict[tuple[str, Vector], list[Note]] = {}
    for one in found:
        if not one.radius and one.text.startswith(one.name):
            some = alike.setdefault((one.text[len(one.name) :], one.face), [])
            if all(
                one.name != other.name for other in some
            ):  # one thing may say the same of two of its edges
                some.append(one)
    spared = {id(one) for some in alike.values() for one in some[1:]}
    named = {id(some[0]): ", ".join(one.name for one in some) + text for (text, _), some in alike.items()}
    return [
        replace(one, text=named[id(one)]) if id(one) in named else one
        for one in found
        if id(one) not in spared
    ]


class _Notes:
    def __init__(self, scene: Scene, entry: Entry) -> None:
        self.scene, self.entry = scene, entry
        self.page = scene.page_of(entry)

    def all(self) -> Iterator[Note]:
        kind, own = self.entry.kind, own_bodies().get(self.entry.kind)
        formed = kind == "turning" or (own is not None and (own.shown or own_file(kind, "notes")))
        if kind in ("bore", "peg", "round", "slot", "notch") and self.page is not None:
            if kind != "round" or self._shapes_something():
                yield self._at_centre(self._size_text(), min(self.scene.layout.spots[self.entry.name].half))
        elif formed and self.page and self.entry.name in self.scene.layout.spots:
            for text in self._formed():
                yield self._at_centre(text, self.scene.layout.spots[self.entry.name].half[1])
            for k, claim in enumerate(
                self.entry.all("bevel", "round", "hollow") if kind == "turning" else ()
            ):
                yield from self._on_edge(claim, -1.0 if k % 2 else 1.0)
            if kind == "turning":
                yield from on_turning(self.scene, self.entry)
        elif kind == "mark" and self.page is not None:
            yield from self._on_faces(lettered_text(self.entry), "", way_of_mark(self.scene, self.entry))
        elif kind in ("fillet", "rib", "strip", "arc", "web") or (own and kind not in CENTRED):
            yield from self._on_faces(self._body_text(), "")
        elif kind in ("thicken", "relieve"):
            yield from self._zone()
        for rack in block_racks(self.entry, self.scene.claims) if self.entry.has("rack") else ():
            yield from self._on_faces(self._rack_text(rack), f"rack {rack.found.where}")
        for claim in self.entry.all("round inside", "round outside", "bevel") if kind != "turning" else ():
            yield from self._on_faces(self._edge_text(claim), claim.word)

    def _formed(self) -> Iterator[str]:
        """What is cut into a gear or turning: teeth and threads, in the words of the recipe."""
        own, more = own_bodies().get(self.entry.kind), own_file(self.entry.kind, "notes")
        told = [claim.text for claim in self.entry.all(*own.shown)] if own is not None else []
        told = (
            more.told(self.scene.model.things[self.entry.name], self.scene.model)
            if more is not None
            else told
        )
        if told:
            yield f"{self._often()}{self.entry.name} " + ", ".join(told)
        for one in windings(self.entry, self.scene.claims) if self.entry.has(*THREAD_WORDS) else ():
            yield f"{self.entry.name} {one.claim.text}{wound(one)}"

    def _rack_text(self, one: BlockRack) -> str:
        rack = one.found.rack
        over = f", pitch {shown(one.over * rack.pitch)} over {one.over}" if one.over > 1 else ""
        teeth = (
            f"{shown(rack.depth)} deep, teeth {shown(rack.thickness)} thick {shown(one.line)} over {one.foot}"
        )
        return (
            f"{self.entry.name} rack {one.found.where}, module "
            f"{rack.module:.4g}, {one.row.whole} teeth{over}, {teeth}"
        )

    def _shapes_something(self) -> bool:
        """A round that an outline runs round is told of; one that only marks a place is not."""
        name = self.entry.name
        return any(face == name or detail == name for face, detail in self.scene.part.faces)

    def _often(self) -> str:
        count = len(self.scene.places(self.entry))
        return f"{count} \u00d7 " if count > 1 else ""

    def _at_centre(self, text: str, radius: float) -> Note:
        spot = self.scene.layout.spots[self.entry.name]
        out = finished_way(self.scene.layout.frames[spot.page].out, self.scene.part.mirrored)
        return Note(self.entry.name, self.scene.places(self.entry)[0], radius, text, out)

    def _size_text(self) -> str:
        entry = self.entry
        before = f"{self._often()}{entry.name} "
        if entry.kind == "notch":
            sizes = [
                amount(claim.measure("size")).text()
                for word in ("long", "wide", "high")
                if (claim := entry.one(word))
            ]
            return before + " \u00d7 ".join(sizes) + self._depth()
        size = hole_amount(entry)
        if size is None:
            return ""
        if entry.kind == "slot":
            long = entry.one("long")
            ends = f" \u00d7 {amount(long.measure('size')).text()}" if long else ""
            return before + size.text() + ends + self._depth() + self._mouth(size)
        if thread := designation(entry, self.scene.claims):
            return before + thread + self._depth() + self._mouth(size)
        sign = next((f"{one} " for one in ("hex", "square") if entry.has(one)), DIAMETER)
        nut = entry.one("hex")
        sign = f"{nut.word_of('screw')} nut, hex " if nut is not None and nut.get("screw") else sign
        return before + size.text(sign) + self._flat() + self._depth() + self._mouth(size)

    def _flat(self) -> str:
        """The flats of a hole or peg as made, and what is cut all round it."""
        claim = self.entry.one("flat", "flats")
        said = f", {claim.word} {flat_amount(self.entry, claim).text()}" if claim is not None else ""
        teeth = self.entry.one("serrated", "splines")
        return said + (f", {teeth.word}{toothed_text(teeth)}" if teeth is not None else "")

    def _depth(self) -> str:
        claim = self.entry.one("deep")
        return f", {amount(claim.measure('size')).text()} deep" if claim is not None else ""

    def _mouth(self, size: Amount) -> str:
        claim = self.entry.one("counterbore", "countersink")
        if claim is None:
            return ""
        wide = ("hex " if claim.word_of("which") == "nut" else DIAMETER) + shown(claim.number("number"))
        said = f", {pocket_name(claim) or claim.word} {wide}"
        return said + (
            f", {shown(claim.number('depth'))} deep" if claim.word == "counterbore" else " \u00d7 90\u00b0"
        )

    def _body_text(self) -> str:
        entry, said = self.entry, f"{self._often()}{self.entry.name} "
        radius, thick = entry.one("radius"), entry.one("thick")
        if entry.kind in ("fillet", "arc") and radius is not None:
            return said + amount(radius.measure("size")).text("R")
        if entry.kind == "arc" and (rise := entry.one("rise")) is not None:
            return said + "rise " + amount(rise.measure("size")).text()
        if entry.kind == "web" and (wide := entry.one("wide")) is not None:
            return said + amount(wide.measure("size")).text() + " wide"
        if thick is None:
            return ""
        said += amount(thick.measure("size")).text() + " thick"
        reaches = [
            f"{shown(claim.number('number'))} along {claim.ref('thing')}" for claim in entry.all("reach")
        ]
        inset = [f"inset {shown(claim.number('number'))}" for claim in entry.all("inset")]
        return ", ".join([said, *reaches, *inset])

    def _edge_text(self, claim: Claim) -> str:
        size = shown(claim.number("number"))
        if claim.word == "bevel":
            return f"{owner(self.scene, self.entry)}{size} \u00d7 45\u00b0"
        if self.entry.kind == "turning":
            return f"{owner(self.scene, self.entry)}R{size}"
        where = (
            ""
            if claim.get("things")
            else " inner corners"
            if claim.word == "round inside"
            else " outer corners"
        )
        return f"R{size}{where}"

    def _on_edge(self, claim: Claim, sign: float) -> Iterator[Note]:
        """A note at the edge of a turning that was eased: of all edges worked like it the one at its station,
        off the lines through its middle, where other things are written."""
        mesh, axis, size = self.scene.part.mesh, Axis(self.scene, self.entry), claim.number("number")
        labels = [i for i, face in enumerate(self.scene.part.faces) if face == (self.entry.name, claim.word)]
        points = mesh.points[np.unique(mesh.triangles[np.isin(mesh.labels, labels)].ravel())]
        beside = points - np.array(axis.start)
        height = beside @ np.array(axis.way)
        off = np.sqrt(np.maximum(0.0, (beside**2).sum(axis=1) - height**2))
        near = np.abs(height - claim.number("station")) <= size + NEAR
        if near.any():
            inside = claim.word_of("which") == "inside"
            near &= off <= off[near].min() + size + NEAR if inside else off >= off[near].max() - size - NEAR
            aside = sign * np.array(axis.sides[1]) - np.array(axis.sides[0])
            x, y, z = points[near][int(np.argmax(np.round(beside[near] @ aside, 6)))].tolist()
            yield Note(self.entry.name, (x, y, z), 0.0, self._edge_text(claim), self._face())

    def _on_faces(self, text: str, detail: str, face: Vector | None = None) -> Iterator[Note]:
        """A note at a point of the faces of this statement: the one nearest to their middle."""
        mesh, faces = self.scene.part.mesh, self.scene.part.faces
        labels = [
            i
            for i, (name, said) in enumerate(faces)
            if (name == self.entry.name and (not detail or said == detail))
        ]
        used = np.unique(mesh.triangles[np.isin(mesh.labels, labels)].ravel())
        if not len(used) or not text:
            return
        points = mesh.points[used]
        middle = points.mean(axis=0)
        inside = self.entry.kind == "rib" and self.entry.has("between")
        away = np.sqrt(((points - middle) ** 2).sum(axis=1)) + 1e-6 * np.arange(len(points))
        x, y, z = (middle if inside else points[int(np.argmin(away))]).tolist()
        yield Note(self.entry.name, (x, y, z), None if inside else 0.0, text, face or self._face())

    def _face(self) -> Vector:
        between = self.entry.one("between")
        mirrored = self.scene.part.mirrored
        if between is not None:
            first, second = (self.scene.pages.flat(between.ref(key)) for key in ("first", "second"))
            if first is not None and second is not None:
                return finished_way(cross(first.normal, second.normal), mirrored)
        out = self.scene.layout.frames[self.page].out if self.page is not None else (0.0, 0.0, 1.0)
        return finished_way(out, mirrored)

    def _zone(self) -> Iterator[Note]:
        claim, path, how = (self.entry.one(*words) for words in (("collar",), ("along",), ("by", "to")))
        if path is not None and how is not None:
            deep = f"{how.word} {shown(how.number('number'))}" + (" overall" if how.word == "to" else "")
            yield from self._on_faces(f"{self.entry.name} wide {shown(path.number('number'))}, {deep}", "")
        spot = self.scene.layout.spots.get(claim.ref("thing").name) if claim is not None else None
        if claim is None or spot is None:
            return
        frame = self.scene.layout.frames[spot.page]
        size = amount(claim.quantity("number"))
        place = finished(frame.point(spot.at, spot.base), self.scene.part)
        ramp = self.entry.one("ramp")
        said = f"{self.entry.name} {size.text(DIAMETER)}" + (
            f", ramp {shown(ramp.number('number'))}" if ramp else ""
        )
        yield Note(
            self.entry.name, place, 0.5 * size.value, said, finished_way(frame.out, self.scene.part.mirrored)
        )
