"""Places everything: plane after plane, each from its own readings and from planes that are placed before it.

Planes that stand on a side or a line wait for the body or line they stand on.  On a plane, a slot that runs
along a line whose direction is itself read waits until that line is placed (its half-size in a direction is
not known before)."""

from __future__ import annotations

import math

from msgspec.structs import replace

from .. import network as solver
from ..diagnostics.types import Diagnostic, Severity, Trouble
from ..facts import BODIES, CENTRED, Claims, Entry, Ref
from ..facts.kind_questions import is_line, is_neighbour, is_plane, is_turned
from ..facts.placing import BetweenEnds, PlaceFact, RunsAlong, RunsSquareTo, RunsUpright, TurnedBy, TurnFact
from ..facts.types import SIDES
from ..network.solve import SolvedLayout, solve_layout, solved_as
from ..network.types import Distance, FixedLine, FixedThing, Network, PlacedLine, Solved
from .answers import disagreements, explain, unmet_sides
from .datums import datum_body, datum_lines, laid_sides
from .judging import redundant, typed_numbers
from .layout import Frame, Layout, PlaneReadings, Spot
from .patterns import Copying
from .planes import OUTWARD, SHEET, Planes, dependencies, spot_half
from .ring_rows import add_ring_readings, ring_angles
from .rows import Rows
from .undecided import undecided, without_echoes

MET = 1e-6
CLASH = 1e-3
"""mm (or radians): places and directions that are said, not read, are held to this."""


def place_all(claims: Claims) -> tuple[Layout, tuple[Diagnostic, ...]]:
    """Every thing, line and plane of a recipe placed, and every place that is open, double or
    contradictory.
    """
    placing = _Placer(claims)
    placing.run()
    return placing.layout, tuple(placing.found)


class _Placer:
    def __init__(self, claims: Claims) -> None:
        self.claims = claims
        self.layout = Layout()
        self.pages = Planes(claims, self.layout)
        self.facts = self.pages.facts.of
        self.found: list[Diagnostic] = []
        self.lost: set[str] = set()
        self.undecided: set[str] = set()
        self.turns: dict[str, float] = {}
        self.copying = Copying(self.pages, self.lost, self.found, self._say)

    def run(self) -> None:
        by_plane = self._by_page()
        waiting = dict(sorted(by_plane.items()))
        while waiting:
            ready = [plane for plane in waiting if not self._before(plane) & set(waiting)]
            if not ready:
                self._circle(waiting)
                return
            for plane in ready:
                self._place(plane, waiting.pop(plane))
        for name in self.claims.entries:
            if self.claims.entries[name].kind in BODIES:
                self._guarded(name, lambda name=name: self.pages.heights(name))
        self.copying.run()
        self.pages.complete()

    def _before(self, plane: str) -> set[str]:
        try:
            return dependencies(self.pages, plane)
        except Trouble:
            return set()

    def _circle(self, waiting: dict[str, list[Entry]]) -> None:
        said = "planes that stand on one another in a circle: " + ", ".join(sorted(waiting))
        first = next(iter(waiting.values()))
        self.found.append(
            Diagnostic("circle-of-planes", Severity.ERROR, said, first[0].span if first else None)
        )

    def _by_page(self) -> dict[str, list[Entry]]:
        """The things and lines to be placed, by plane.  What is only a measure (a neighbour of sizes) has no
        place.
        """
        read_to = {ref.name for placing in self.facts.values() for ref in placing.leans_on}
        pages: dict[str, list[Entry]] = {SHEET: []}
        for name, entry in self.claims.entries.items():
            if not (entry.kind in CENTRED or is_line(entry) or is_plane(entry) or entry.kind in BODIES):
                continue
            if is_neighbour(entry) and name not in read_to and not self.facts[name].all(PlaceFact):
                continue
            self._guarded(name, lambda name=name: pages.setdefault(self.pages.stand(name)[0], []))
            if name in self.lost or not (entry.kind in CENTRED or is_line(entry)):
                continue
            pages[self.pages.stand(name)[0]].append(entry)
        return pages

    def _guarded(self, name: str, what: object) -> None:
        if name in self.lost:
            return
        try:
            what()  # type: ignore[operator]
        except Trouble as trouble:
            self._say(trouble, self.claims.entries[name])
            self.lost.update((name, *(trouble.names if trouble.code == "circle-of-planes" else ())))

    def _say(self, trouble: Trouble, entry: Entry) -> None:
        self.found.append(
            Diagnostic(trouble.code, Severity.ERROR, trouble.says, entry.span, advice=trouble.advice)
        )

    def _place(self, plane: str, entries: list[Entry]) -> None:
        frame = self._frame(plane)
        if frame is None:
            self.lost.update(entry.name for entry in entries)
            return
        self.layout.frames[plane] = frame
        waiting = [entry for entry in entries if not self._leans_on_lost(entry)]
        first = True
        while waiting:
            ready = [
                entry for entry in waiting if self._turn_known(entry, plane) and self._copies_known(entry)
            ]
            ready = self._closed(ready, waiting) if len(ready) < len(waiting) else ready
            if not ready:
                ready = waiting
            self._solve(plane, ready, first)
            self._copies_read_to()
            first = False
            done = {entry.name for entry in ready}
            waiting = [entry for entry in waiting if entry.name not in done]

    def _frame(self, plane: str) -> Frame | None:
        try:
            return self.pages.frame(plane)
        except Trouble as trouble:
            self._say(
                trouble,
                self.claims.entries[plane if plane in self.claims.entries else plane.rpartition(".")[0]],
            )
            return None

    def _copies_known(self, entry: Entry) -> bool:
        """True when every copy that a thing's place is read from has been made."""
        return all(ref.name in self.layout.copies for ref in self._leans_on(entry) if _is_copy(ref))

    def _copies_read_to(self) -> None:
        wanted = {ref.name for placing in self.facts.values() for ref in placing.leans_on if _is_copy(ref)}
        if wanted:
            self.copying.read_to(wanted)

    def _leans_on_lost(self, entry: Entry) -> bool:
        if any(ref.name in self.lost for ref in self._leans_on(entry)):
            self.lost.add(entry.name)
        return entry.name in self.lost

    def _leans_on(self, entry: Entry) -> tuple[Ref, ...]:
        return self.facts[entry.name].leans_on

    def _closed(self, ready: list[Entry], waiting: list[Entry]) -> list[Entry]:
        """Those that lean on nothing that still waits."""
        names = {entry.name for entry in ready}
        others = {entry.name for entry in waiting} - names
        while True:
            keep = [entry for entry in ready if not {ref.name for ref in self._leans_on(entry)} & others]
            if len(keep) == len(ready):
                return keep
            others |= {entry.name for entry in ready} - {entry.name for entry in keep}
            ready = keep

    def _turn_known(self, entry: Entry, plane: str) -> bool:
        """True when the way a slot, notch or bar lies on the plane can be said before its place is."""
        if not is_turned(entry):
            return True
        turn = self._turn(entry, plane)
        if turn is not None:
            self.turns[entry.name] = turn
        return turn is not None

    def _turn(self, entry: Entry, plane: str) -> float | None:
        facts = [one for one in self.facts[entry.name].facts if isinstance(one, TurnFact | BetweenEnds)]
        turn: float | None = 0.0
        match facts[0] if facts else None:
            case TurnedBy() as fact:
                turn = math.radians(fact.angle)
            case RunsUpright():
                turn = 0.5 * math.pi
            case RunsAlong() as fact:
                turn = self._angle_of(fact.thing, plane)
            case RunsSquareTo() as fact:
                along = self._angle_of(fact.thing, plane)
                turn = None if along is None else along + 0.5 * math.pi
            case _:
                pass
        if facts and turn is not None and isinstance(facts[0], TurnFact):
            self.layout.use(entry, facts[0])
        return turn

    def _angle_of(self, ref: Ref, plane: str) -> float | None:
        """Direction on a plane of a line or of a side seen edge-on, None while it is not known."""
        entry = self.claims.entries.get(ref.name)
        if entry is not None and is_line(entry):
            placed = self.layout.lines.get(ref.name)
            return None if placed is None or placed[0] != plane else placed[1].angle - 0.5 * math.pi
        if ref.part in SIDES and self.pages.stand(ref.name)[0] == plane:
            return OUTWARD[ref.part] - 0.5 * math.pi
        flat, frame = (self.pages.flat(ref) if self.pages.is_flat(ref) else None), self.layout.frames[plane]
        if flat is None:
            return None
        at, _ = frame.onto(
            (
                frame.origin[0] + flat.normal[0],
                frame.origin[1] + flat.normal[1],
                frame.origin[2] + flat.normal[2],
            )
        )
        return math.atan2(at[1], at[0]) - 0.5 * math.pi

    def _rows(self, plane: str, entries: list[Entry], first: bool) -> Rows:
        """The network of some things and lines of a plane, those placed before being fixed."""
        rows = Rows(self.pages, plane, self.turns)
        if plane == SHEET and first:
            self.found.extend(datum_lines(rows, entries))
        for name, spot in self.layout.spots.items():
            if spot.plane == plane:
                rows.net.fixed[name] = FixedThing(rows.thing(self.claims.entries[name]), spot.at)
        if plane == SHEET and first:
            datum_body(rows, entries)
        for entry in entries:
            if entry.name != rows.datum:
                rows.declare(entry)
        for entry in entries:
            rows.add(entry)
        add_ring_readings(rows, {entry.name for entry in entries})
        if plane == SHEET:
            laid_sides(rows)
        return rows

    def _solve(self, plane: str, entries: list[Entry], first: bool) -> None:
        rows = self._rows(plane, entries, first)
        self.found.extend(rows.found)
        broken = {_owner(rows, diagnostic) for diagnostic in rows.found}
        network = rows.net.network(plane == SHEET and first)
        owners = {key: entry.name for key, (entry, _) in rows.keys.items()}
        mirrors = solve_layout(network)
        solved = solved_as(mirrors, owners)
        if solved.left_open and (settled := ring_angles(rows, network, solved, entries)) is not None:
            network, mirrors = settled, solve_layout(settled)
            solved = solved_as(mirrors, owners)
        self.layout.readings.append(PlaneReadings(plane, network, dict(rows.keys), dict(rows.facts)))
        if not rows.found:
            before = len(self.found)
            solved = self._agreed(network, mirrors, solved, rows)
            disagree = len(self.found) > before
            self.found.extend(explain(without_echoes(solved, rows, self.undecided), rows, entries))
            if not disagree:
                self.found.extend(unmet_sides(network, solved, rows, self.undecided))
            self.undecided |= undecided(solved)
        self._keep(solved, rows, plane, entries)
        self.lost |= {name for name in broken if name}

    def _agreed(self, network: Network, mirrors: SolvedLayout, solved: Solved, rows: Rows) -> Solved:
        """Where readings check each other: the places they agree on, sizes included; what disagrees is
        answered.
        """
        if solved.left_open or solved.two_places or not (solved.misfits or redundant(network)):
            return solved
        if not solved.misfits and all(abs(one) < MET for one in solved.residuals.values()):
            return solved  # every reading is met as it stands: there is nothing to share out
        adjusted = solver.adjust.adjust(network, mirrors)
        if any(not test.fits for test in adjusted.tests):
            alternatives = solver.hypotheses.usual_alternatives(
                network, solver.fit_tests.EXACT_U, typed_numbers(rows.keys)
            )
            behind = {row.key: row for row in network.rows if isinstance(row, Distance)}
            told = disagreements(solver.suspects.verdicts(adjusted, alternatives), rows, behind)
            self.found.extend(told)
            # which side things lie on can't be judged before it is known which reading is wrong
            return replace(solved, misfits=()) if told else solved
        sides = tuple(one for one in solved.misfits if {side.key for side in rows.net.sides} & set(one.keys))
        exact = {one.key for one in adjusted.readings if one.exact}
        off = {one.key for one in adjusted.readings if one.exact and abs(one.residual) > CLASH}
        if not sides and any(set(one.keys) <= exact and set(one.keys) & off for one in solved.misfits):
            return solved  # words that contradict each other: no give-or-take of a reading makes them meet
        things = {
            name: adjusted.things[name].at if name in adjusted.things else at
            for name, at in solved.things.items()
        }
        lines = {name: PlacedLine(one.angle, one.offset) for name, one in adjusted.lines.items()}
        residuals = {one.key: one.residual for one in adjusted.readings}
        return replace(
            solved, things=things, lines={**solved.lines, **lines}, residuals=residuals, misfits=sides
        )

    def _keep(self, solved: Solved, rows: Rows, plane: str, entries: list[Entry]) -> None:
        for name, line in solved.lines.items():
            if name in self.claims.entries:
                self.layout.lines[name] = (plane, line)
        for name, fixed in rows.net.fixed_lines.items():
            if name in self.claims.entries:
                self.layout.lines.setdefault(name, (plane, _placed(fixed)))
        for entry in entries:
            if entry.name in solved.things:
                _, base, out = self.pages.stand(entry.name)
                turn = self.turns.get(entry.name, 0.0)
                self.layout.spots[entry.name] = Spot(
                    plane, solved.things[entry.name], base, out, turn, spot_half(entry)
                )
        for key, residual in solved.residuals.items():
            if key in rows.keys:
                entry, claim = rows.keys[key]
                self.layout.residuals[(entry.name, claim.text)] = residual


def _placed(fixed: FixedLine) -> PlacedLine:
    return PlacedLine(fixed.angle, fixed.offset)


def _owner(rows: Rows, diagnostic: Diagnostic) -> str:
    for entry, claim in rows.keys.values():
        if claim.span == diagnostic.span:
            return entry.name
    return ""


def _is_copy(ref: Ref) -> bool:
    return ref.part.isdigit() and int(ref.part) > 1
