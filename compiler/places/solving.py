"""One plane at work: the network of its things and lines, its solution, and what is kept of that."""

from __future__ import annotations

from msgspec.structs import replace

from .. import network as solver
from .. import places
from ..diagnostics.types import Diagnostic
from ..facts import Entry
from ..network.solve import SolvedLayout, solve_layout, solved_as
from ..network.types import Distance, FixedLine, FixedThing, Network, PlacedLine, Solved
from .datums import datum_body, datum_lines, laid_sides
from .judging import redundant, typed_numbers, unmet
from .layout import PlaneReadings, Spot
from .planes import SHEET, Planes, spot_half
from .ring_rows import add_ring_readings, ring_angles
from .rows import Rows

MET = 1e-6
CLASH = 1e-3
"""mm (or radians): places and directions that are said, not read, are held to this."""


class PlaneSolver:
    """Solves planes one after the other into the layout; `turns` are the ways (radians) in which things lie
    round, `found` takes the answers.
    """

    def __init__(self, pages: Planes, turns: dict[str, float], found: list[Diagnostic]) -> None:
        self.pages, self.layout, self.turns, self.found = pages, pages.layout, turns, found
        self.undecided: set[str] = set()

    def solve(self, plane: str, entries: list[Entry], first: bool) -> set[str]:
        """Place some things and lines of a plane; what is open, double or contradictory is answered.

        `first`: nothing of the plane is placed yet.  What is returned are the names of those whose facts
        can't be understood."""
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
            if solved.left_open or solved.two_places or solved.misfits:
                left = places.undecided.without_echoes(solved, rows, self.undecided)
                self.found.extend(places.answers.explain(left, rows, entries))
                self.undecided |= places.undecided.undecided(solved)
            elif not disagree and (wrong := unmet(network, solved)):
                self.found.extend(places.answers.unmet_sides(wrong, rows, self.undecided))
        self._keep(solved, rows, plane, entries)
        return {name for name in broken if name}

    def _rows(self, plane: str, entries: list[Entry], first: bool) -> Rows:
        """The network of some things and lines of a plane, those placed before being fixed."""
        rows = Rows(self.pages, plane, self.turns)
        if plane == SHEET and first:
            self.found.extend(datum_lines(rows, entries))
        for name, spot in self.layout.spots.items():
            if spot.plane == plane:
                rows.net.fixed[name] = FixedThing(rows.thing(self.pages.claims.entries[name]), spot.at)
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
            told = places.answers.disagreements(
                solver.suspects.verdicts(adjusted, alternatives), rows, behind
            )
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
            if name in self.pages.claims.entries:
                self.layout.lines[name] = (plane, line)
        for name, fixed in rows.net.fixed_lines.items():
            if name in self.pages.claims.entries:
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
                at = (entry.name, claim.text)
                self.layout.residuals[at] = (*self.layout.residuals.get(at, ()), residual)


def _placed(fixed: FixedLine) -> PlacedLine:
    return PlacedLine(fixed.angle, fixed.offset)


def _owner(rows: Rows, diagnostic: Diagnostic) -> str:
    for entry, claim in rows.keys.values():
        if claim.span == diagnostic.span:
            return entry.name
    return ""
