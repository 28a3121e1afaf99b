"""The whole part: each body's material, zones, then holes; copies; all bodies joined; then the other hand and
the shelf.

Order of work inside a body is fixed (material, thickening, edges, holes), and bodies are joined in the order
of their names, so the order of writing can't reach the mesh.  A round hole straight through the only plate it
can belong to is let into the plate's outline before it is extruded: the same solid, far faster where there
are thousands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from typing import cast

from ..diagnostics.types import Diagnostic, Label, Severity, Trouble
from ..facts import BODIES, HOLES, ZONES, Claims, Entry
from ..facts.needs import THREAD_WORDS
from ..imports.types import ImportedMesh
from ..kinds import own_file
from ..kinds.mark.solid import Lettering
from ..model import Model
from ..model.zones import Zone
from ..outlines import Region
from ..outlines.marks import Marks
from ..outlines.outlining import Outliner
from ..places.layout import Layout, Move
from ..places.planes import Pages
from .combine import join, moved, pieces, remove, trim, without_specks
from .crowds import crowded, too_fine
from .filled_holes import Cut, Fillings, reach
from .finish import finish, measure
from .flush import pushed_through
from .holes import Holes
from .holes_in_outline import Round, let_in, round_hole
from .kernel import Solid
from .meeting import laid_together
from .misses import Misses
from .overhanging import overhanging
from .spoken_of import line_of
from .swallowed import swallowed
from .types import Figures, Mesh, Part
from .whereabouts import blamed, in_words
from .workshop import Answered, Workshop

SLIVER = 1e-3
MOST_COPIES_OF_BODIES = 2_000


class _Assembly:
    def __init__(
        self,
        model: Model,
        claims: Claims,
        layout: Layout,
        chord: float,
        meshes: Mapping[str, ImportedMesh],
        unmade: tuple[Diagnostic, ...],
    ) -> None:
        self.model, self.claims, self.layout, self.chord = model, claims, layout, chord
        self.marks = Marks()
        self.pages = Pages(claims, layout)
        outliner = Outliner(model, claims, layout, self.marks, chord)
        self.bodies = Workshop(model, self.marks, chord, meshes)
        self.bodies.claims, self.bodies.layout = claims, layout
        self.holes = Holes(model, claims, layout, self.pages, outliner, self.marks, chord)
        self.found = list(unmade)
        self.lettering = Lettering(model, self.marks, chord, self.bodies.flip)
        self.built: dict[str, Solid] = {}
        self.cutters: list[Cut] = []
        self.let_in: list[tuple[Round, str]] = []
        self.misses = Misses()
        self.untried: list[tuple[Entry, str, Solid, Solid]] = []

    # -- one body ----------------------------------------------------------------------------------

    def run(self) -> Part | None:
        names = [entry.name for entry in self.claims.entries.values() if entry.kind in BODIES]
        if not names:
            said = "the recipe makes nothing: it has no body"
            advice = ("add a plate, block, turning, strip or peg",)
            self.found.append(Diagnostic("nothing-made", Severity.ERROR, said, advice=advice))
            return None
        holes = self._holes_by_body()
        for name in names:
            self._body(name, holes.get(name, []))
        for trouble, mark in self.lettering.answered():
            self._say(trouble, self.claims.entries[mark.name])
        self.found += [*self.lettering.found, *self.misses.answered()]
        if any(one.is_error for one in self.found):
            self._try_the_rest(None)
            return None
        part = self._joined(names)
        self._try_the_rest(part)
        return part

    def _holes_by_body(self) -> dict[str, list[Entry]]:
        found: dict[str, list[Entry]] = {}
        for entry in self.claims.entries.values():
            if entry.kind in HOLES and entry.name in self.layout.spots:
                try:
                    for owner in self.holes.owners(entry):
                        found.setdefault(owner, []).append(entry)
                except Trouble as trouble:
                    self._say(trouble, entry)
        return found

    def _say(self, trouble: Trouble, entry: Entry) -> None:
        """A plain reason at the statement it concerns: the first thing named in it that has a place in the
        recipe.
        """
        if isinstance(trouble, Answered):
            return
        named = next((self.claims.entries[n] for n in trouble.names if n in self.claims.entries), entry)
        others = () if named is entry else (Label(named.span, ""),)
        says = in_words(trouble, entry, self.pages, self.layout)
        self.found.append(
            Diagnostic(
                trouble.code,
                Severity.ERROR,
                says,
                line_of(trouble, entry) if trouble.span is None else trouble.span,
                others=others,
                advice=trouble.advice,
            )
        )

    def _body(self, name: str, holes: list[Entry]) -> None:
        entry = self.claims.entries[name]
        try:
            region, rest = self._let_in(entry, holes)
            solid = self.bodies.solid(name, region)
        except Trouble as trouble:
            self._say(trouble, entry)
            return
        zones = self._zones(name)
        pads = [pad for zone in zones if zone.adds for pad in self._zone(zone)]
        solid = join([solid, *pads]) if pads else solid
        reliefs = [tool for zone in zones if not zone.adds for tool in self._zone(zone)]
        solid = remove(solid, pushed_through(solid, reliefs)) if reliefs else solid
        solid = self._trimmed(entry, solid)
        tools = [tool for hole in rest for tool in self._hole(hole, name, solid)]
        self.built[name] = self.lettering.body(name, solid, pushed_through(solid, tools))

    def _zones(self, body: str) -> list[Zone]:
        return [zone for zone in self.model.of(Zone) if zone.body == body]

    def _zone(self, zone: Zone) -> list[Solid]:
        """The pads or cutters of a zone; none where it was answered."""
        own = own_file(zone.noun, "solid")
        assert own is not None, zone.noun
        try:
            return cast("list[Solid]", own.build(self.bodies, zone))
        except Trouble as trouble:
            self._say(trouble, self.claims.entries[zone.name])
            return []

    def _trimmed(self, entry: Entry, solid: Solid) -> Solid:
        for claim in sorted(entry.all("trim"), key=lambda one: one.text):
            flat = self.pages.flat(claim.ref("thing"))
            if flat is None:
                continue
            x, y, z = flat.normal
            label = self.marks.of(entry.name, "trim")
            halves = [trim(solid, flat.point, way, label) for way in ((x, y, z), (-x, -y, -z))]
            kept, lost = sorted(halves, key=lambda one: -one.volume())
            if lost.volume() <= SLIVER:
                said = f"`{claim.ref('thing')}` does not cut `{entry.name}`: nothing is trimmed"
                self.found.append(Diagnostic("trim-misses", Severity.ERROR, said, claim.span))
            elif kept.volume() - lost.volume() <= SLIVER:
                said = (
                    f"`{claim.ref('thing')}` cuts `{entry.name}` in half: which half is to stay can't be told"
                )
                advice = ("trim keeps the larger part: make the body longer on the side that stays",)
                self.found.append(Diagnostic("trim-halves", Severity.ERROR, said, claim.span, advice=advice))
            solid = kept
        return solid

    def _let_in(self, entry: Entry, holes: list[Entry]) -> tuple[Region | None, list[Entry]]:
        """Plain round holes let into the outline of a plate or block that has no zones; and the holes that
        are left.
        """
        if entry.kind not in ("plate", "block") or entry.has("bevel", "trim"):
            return None, holes
        if self._zones(entry.name):
            return None, holes
        page = self.pages.stand(entry.name)[0]
        plain = [one for one in holes if self.holes.plain(one) and self.layout.spots[one.name].page == page]
        if entry.name in self.layout.copies:
            plain = [one for one in plain if one.name not in self.layout.copies]
        rounds = [hole for hole in (round_hole(one, self.layout) for one in plain) if hole is not None]
        if sum(len(hole.centres) for hole in rounds) < 2:
            return None, holes
        region, used = let_in(self.bodies.region(entry.name), rounds, self.marks, self.chord)
        self.let_in += [(hole, entry.name) for hole in rounds if hole.entry.name in used]
        return region, [one for one in holes if one.name not in used]

    def _hole(self, hole: Entry, body: str, solid: Solid) -> list[Solid]:
        """The cutters of a hole and of its copies in one body; one that meets nothing is answered."""
        frame = self.layout.frames[self.layout.spots[hole.name].page]
        try:
            first = self.holes.tool(hole, reach(solid, frame), self._around(hole, body, solid))
        except Trouble as trouble:
            self._say(trouble, hole)
            return []
        own, further = self._copies_in(hole, body)
        if self._too_many(hole, first, len(own) + len(further)):
            return []
        if self.claims.of_kind(*ZONES):
            from .depth_notes import counted

            self.found += counted(self.holes, hole, body, first, solid)
        twin = first
        if hole.has(*THREAD_WORDS) and any(move.mirrors for move in (*own, *further)):
            with self._flipped():
                twin = self.holes.tool(hole, reach(solid, frame))
        tools = [first, *(moved(twin if move.mirrors else first, move) for move in own)]
        if len(tools) == 1 and len(self.holes.owners(hole)) == 1:
            self.untried.append((hole, body, first, solid))
        else:
            self._try(hole, body, tools, solid)
        tools += [moved(twin if move.mirrors else first, move) for move in further]
        self.cutters.append(Cut(hole, tools))
        return tools

    def _around(self, hole: Entry, body: str, solid: Solid) -> list[Solid] | None:
        """The material whose hollow corners a notch rounds: its body and the others as they are without
        holes.
        """
        if not hole.has("round inside"):
            return None
        found = [solid]
        for name in self.holes.bodies:
            if name != body:
                with suppress(Trouble):  # told where that body is built
                    found.append(self.bodies.solid(name))
        return found

    def _try(self, hole: Entry, body: str, tools: list[Solid], solid: Solid) -> None:
        """Answer a hole of which a copy cuts nothing of a body."""
        self.found += self.misses.ask(hole, body, tools, solid, len(self.holes.owners(hole)) > 1)

    def _try_the_rest(self, part: Part | None) -> None:
        """Single holes that left no face on the part: cutting each with its body takes longer than looking
        for its label.
        """
        if not self.untried:
            return
        labels = () if part is None else sorted(set(part.mesh.labels.tolist()))
        marked = {self.marks.faces[label][0] for label in labels if label >= 0}
        for hole, body, tool, solid in self.untried:
            if hole.name not in marked:
                self._try(hole, body, [tool], solid)

    def _copies_in(self, hole: Entry, body: str) -> tuple[tuple[Move, ...], tuple[Move, ...]]:
        """Moves of a hole's copies in a body, and of those that come with the copies of other bodies it goes
        through.

        A body that is copied takes its holes along; so a hole that is copied together with it is cut in it
        once, and what else the hole goes through is cut at each of the copies."""
        moves = self.layout.copies.get(hole.name, ())
        if moves and self.layout.copies.get(body) == moves:
            return (), ()
        if moves or body in self.layout.copies:
            return moves, ()
        others = [self.layout.copies[name] for name in self.holes.owners(hole) if name in self.layout.copies]
        return (), tuple(move for some in others for move in some)

    def _twin(self, name: str) -> Solid:
        """A body as its mirrored copies need it: threads, also of its holes, wound the other way, marks
        turned over.
        """
        holes = self._holes_by_body().get(name, [])
        mesh, some = self.bodies.meshes.get(name), (self.claims.entries[name], *holes)
        turns_over = self.lettering.of(name) or (mesh is not None and mesh.twin is not None)
        if not (turns_over or any(one.has(*THREAD_WORDS) for one in some)):
            return self.built[name]
        kept = self.built[name], list(self.cutters), list(self.found), list(self.untried)
        with self._flipped():
            self._body(name, holes)
        twin = self.built[name]
        self.built[name], self.cutters, self.found, self.untried = kept
        return twin

    @contextmanager
    def _flipped(self) -> Iterator[None]:
        """While it lasts, threads are wound the other way and marks turned over."""
        self.bodies.flip = self.holes.flip = self.lettering.flip = not self.bodies.flip
        try:
            yield
        finally:
            self.bodies.flip = self.holes.flip = self.lettering.flip = not self.bodies.flip

    def _too_many(self, entry: Entry, solid: Solid, copies: int) -> bool:
        """Copies that can't be joined in good time and memory, answered."""
        moves = self.layout.copies.get(entry.name, ())
        found = crowded(entry.name, entry.span, solid, moves) or too_fine(
            entry.name, entry.span, solid, copies
        )
        self.found.extend([found] if found is not None else [])
        return found is not None

    # -- all bodies --------------------------------------------------------------------------------

    def _joined(self, names: list[str]) -> Part | None:
        parts: list[tuple[str, Solid]] = []
        for name in names:
            parts.append((name, self.built[name]))
            moves = self.layout.copies.get(name, ())
            if len(moves) > MOST_COPIES_OF_BODIES:
                said = (
                    f"`{name}` would be copied {len(moves)} times; "
                    f"{MOST_COPIES_OF_BODIES} bodies are the most"
                )
                self.found.append(
                    Diagnostic("bad-count", Severity.ERROR, said, self.claims.entries[name].span)
                )
                return None
            entry, solid = self.claims.entries[name], self.built[name]
            if self._too_many(entry, solid, len(moves)):
                return None
            twin = self._twin(name) if any(move.mirrors for move in moves) else self.built[name]
            parts.extend(
                (f"{name}.{i}", moved(twin if move.mirrors else self.built[name], move))
                for i, move in enumerate(moves, start=2)
            )
        parts = laid_together(parts)
        whole = without_specks(join([solid for _, solid in parts]) if len(parts) > 1 else parts[0][1])
        if whole.is_empty():
            said = "nothing is left of the part: its holes take all of it"
            self.found.append(
                Diagnostic("nothing-left", Severity.ERROR, said, self.claims.entries[names[0]].span)
            )
            return None
        if not self._in_one_piece(whole, parts):
            return None
        if len(parts) > 1:
            fillings = Fillings(
                self.model, self.claims, self.layout, self.bodies, self.holes, self.built, parts
            )
            self.found += fillings.told(self.cutters, self.let_in, whole)
        self.found += self.lettering.buried(parts)
        self.found += [*swallowed(self.claims, self.built), *overhanging(self.bodies, self.built)]
        return self._finished(whole)

    def _in_one_piece(self, whole: Solid, parts: list[tuple[str, Solid]]) -> bool:
        found = pieces(whole)
        if len(found) <= 1:
            return True
        from .apart import fallen

        self.found.append(fallen(self.bodies, found, parts))
        return False

    def _finished(self, whole: Solid) -> Part:
        mirrored_part = self.claims.recipe is not None and self.claims.recipe.has("other hand")
        if mirrored_part:
            whole = whole.mirror((1.0, 0.0, 0.0))
        low = whole.bounding_box()[:3]
        mesh = finish(whole.translate((-low[0], -low[1], -low[2])))
        figures = measure(mesh)
        return Part(mesh, figures, tuple(self.marks.faces), mirrored_part, (low[0], low[1], low[2]))


def assemble(
    model: Model,
    claims: Claims,
    layout: Layout,
    chord: float,
    meshes: Mapping[str, ImportedMesh] | None = None,
    unmade: tuple[Diagnostic, ...] = (),
) -> tuple[Part | None, tuple[Diagnostic, ...]]:
    """The finished part of a recipe, and all that stands in its way.

    `chord`: greatest facet error in mm; `meshes`: the material of the bodies that come from files; `unmade`:
    what was answered already of things that the model lacks."""
    work = _Assembly(model, claims, layout, chord, meshes or {}, unmade)
    try:
        part = work.run()
    except Trouble as trouble:
        span, advice = blamed(trouble, claims)
        work.found.append(Diagnostic(trouble.code, Severity.ERROR, trouble.says, span, advice=advice))
        part = None
    return part, tuple(work.found)


__all__ = ["Figures", "Mesh", "assemble", "moved"]
