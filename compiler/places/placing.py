"""Places everything: page after page, each from its own readings and from pages that are placed before it.

Pages that stand on a side or a line wait for the body or line they stand on.  On a page, a slot that runs
along a line whose direction is itself read waits until that line is placed (its half-size in a direction is
not known before)."""

from __future__ import annotations

import math

from msgspec.structs import replace

from ..diagnostics.types import Diagnostic, Label, Severity, Trouble
from ..facts import BODIES, CENTRED, Claims, Entry, Ref
from ..facts.needs import BOXES
from ..facts.types import SIDES, LaidAs
from ..network.solve import Layout as Mirrors
from ..network.solve import solve_layout, solved_as
from ..network.types import (
    Distance,
    FixedLine,
    FixedThing,
    LineAngle,
    Network,
    PlacedLine,
    Side,
    SizeReading,
    Solved,
)
from .answers import explain, unmet_sides
from .judging import disagreements, redundant, typed_numbers
from .layout import Frame, Layout, PageReadings, Spot
from .measured_to import EXACT
from .patterns import Copying
from .planes import OUTWARD, SHEET, Pages, dependencies, spot_half
from .ring_rows import add_ring_readings, ring_angles
from .rows import PLACING, Rows

MET = 1e-6
_AT_SIDE = {"bottom": (0.5 * math.pi, 1), "left": (0.0, 1), "top": (0.5 * math.pi, -1), "right": (0.0, -1)}


def place_all(claims: Claims) -> tuple[Layout, tuple[Diagnostic, ...]]:
    """Every thing, line and page of a recipe placed, and every place that is open, double or
    contradictory.
    """
    placing = _Placing(claims)
    placing.run()
    return placing.layout, tuple(placing.found)


CLASH = 1e-3
"""mm (or radians): places and directions that are said, not read, are held to this."""


class _Placing:
    def __init__(self, claims: Claims) -> None:
        self.claims = claims
        self.layout = Layout()
        self.pages = Pages(claims, self.layout)
        self.found: list[Diagnostic] = []
        self.lost: set[str] = set()
        self.turns: dict[str, float] = {}
        self.copying = Copying(claims, self.pages, self.layout, self.lost, self.found, self._say)

    def run(self) -> None:
        by_page = self._by_page()
        waiting = dict(sorted(by_page.items()))
        while waiting:
            ready = [page for page in waiting if not self._before(page) & set(waiting)]
            if not ready:
                self._circle(waiting)
                return
            for page in ready:
                self._page(page, waiting.pop(page))
        for name in self.claims.entries:
            if self.claims.entries[name].kind in BODIES:
                self._guarded(name, lambda name=name: self.pages.heights(name))
        self.copying.run()

    def _before(self, page: str) -> set[str]:
        try:
            return dependencies(self.claims, self.pages, page)
        except Trouble:
            return set()

    def _circle(self, waiting: dict[str, list[Entry]]) -> None:
        said = "planes that stand on one another in a circle: " + ", ".join(sorted(waiting))
        first = next(iter(waiting.values()))
        self.found.append(
            Diagnostic("circle-of-planes", Severity.ERROR, said, first[0].span if first else None)
        )

    def _by_page(self) -> dict[str, list[Entry]]:
        """The things and lines to be placed, by page.  What is only a measure (a neighbour of sizes) has no
        place.
        """
        read_to = {ref.name for entry in self.claims.entries.values() for ref in _read_to(entry)}
        pages: dict[str, list[Entry]] = {SHEET: []}
        for name, entry in self.claims.entries.items():
            if entry.kind not in CENTRED | {"line", "plane"} and entry.kind not in BODIES:
                continue
            if (
                entry.kind == "neighbour"
                and name not in read_to
                and not any(c.word in PLACING for c in entry.claims)
            ):
                continue
            self._guarded(name, lambda name=name: pages.setdefault(self.pages.stand(name)[0], []))
            if name in self.lost or entry.kind not in CENTRED | {"line"}:
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

    def _page(self, page: str, entries: list[Entry]) -> None:
        frame = self._frame(page)
        if frame is None:
            self.lost.update(entry.name for entry in entries)
            return
        self.layout.frames[page] = frame
        waiting = [entry for entry in entries if not self._leans_on_lost(entry)]
        first = True
        while waiting:
            ready = [
                entry for entry in waiting if self._turn_known(entry, page) and self._copies_known(entry)
            ]
            ready = self._closed(ready, waiting) if len(ready) < len(waiting) else ready
            if not ready:
                ready = waiting
            self._solve(page, ready, first)
            self._copies_read_to()
            first = False
            done = {entry.name for entry in ready}
            waiting = [entry for entry in waiting if entry.name not in done]

    def _frame(self, page: str) -> Frame | None:
        try:
            return self.pages.frame(page)
        except Trouble as trouble:
            self._say(
                trouble, self.claims.entries[page if page in self.claims.entries else page.rpartition(".")[0]]
            )
            return None

    def _copies_known(self, entry: Entry) -> bool:
        """True when every copy that a thing's place is read from has been made."""
        return all(ref.name in self.layout.copies for ref in _read_to(entry) if _is_copy(ref))

    def _copies_read_to(self) -> None:
        wanted = {
            ref.name for entry in self.claims.entries.values() for ref in _read_to(entry) if _is_copy(ref)
        }
        if wanted:
            self.copying.read_to(wanted)

    def _leans_on_lost(self, entry: Entry) -> bool:
        if any(ref.name in self.lost for ref in _read_to(entry)):
            self.lost.add(entry.name)
        return entry.name in self.lost

    @staticmethod
    def _closed(ready: list[Entry], waiting: list[Entry]) -> list[Entry]:
        """Those that lean on nothing that still waits."""
        names = {entry.name for entry in ready}
        others = {entry.name for entry in waiting} - names
        while True:
            keep = [entry for entry in ready if not {ref.name for ref in _read_to(entry)} & others]
            if len(keep) == len(ready):
                return keep
            others |= {entry.name for entry in ready} - {entry.name for entry in keep}
            ready = keep

    def _turn_known(self, entry: Entry, page: str) -> bool:
        """True when the way a slot, notch or bar lies on the page can be said before its place is."""
        if entry.kind not in ("slot", "notch", "mark"):
            return True
        turn: float | None = 0.0
        claim = entry.one("along", "square to", "upright", "turned", "ends")
        if claim is not None and claim.word == "turned":
            turn = math.radians(claim.number("angle"))
        elif claim is not None and claim.word == "upright":
            turn = 0.5 * math.pi
        elif claim is not None and claim.word in ("along", "square to"):
            turn = self._angle_of(claim.ref("thing"), page)
            if turn is not None and claim.word == "square to":
                turn += 0.5 * math.pi
        if turn is not None:
            self.turns[entry.name] = turn
        return turn is not None

    def _angle_of(self, ref: Ref, page: str) -> float | None:
        """Direction on a page of a line or of a side seen edge-on, None while it is not known."""
        entry = self.claims.entries.get(ref.name)
        if entry is not None and entry.kind == "line":
            placed = self.layout.lines.get(ref.name)
            return None if placed is None or placed[0] != page else placed[1].angle - 0.5 * math.pi
        if ref.part in SIDES and self.pages.stand(ref.name)[0] == page:
            return OUTWARD[ref.part] - 0.5 * math.pi
        flat, frame = (self.pages.flat(ref) if self.pages.is_flat(ref) else None), self.layout.frames[page]
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

    def _solve(self, page: str, entries: list[Entry], first: bool) -> None:
        rows = Rows(self.claims, self.pages, self.layout, page, self.turns)
        if page == SHEET and first:
            self._datums(rows, entries)
        for name, spot in self.layout.spots.items():
            if spot.page == page:
                rows.fixed[name] = FixedThing(rows.thing(self.claims.entries[name]), spot.at)
        if page == SHEET and first:
            self._datum_body(rows, entries)
        for entry in entries:
            if entry.name != rows.datum:
                rows.declare(entry)
        for entry in entries:
            rows.add(entry)
        add_ring_readings(rows, {entry.name for entry in entries})
        if page == SHEET:
            self._laid_sides(rows)
        self.found.extend(rows.found)
        broken = {_owner(rows, diagnostic) for diagnostic in rows.found}
        network = Network(
            tuple(rows.things.values()),
            tuple(rows.lines.values()),
            tuple(rows.fixed.values()),
            tuple(rows.fixed_lines.values()),
            tuple(rows.rows),
            tuple(rows.sides),
            tuple(rows.roughly),
            free_frame=page == SHEET and first,
            sizes=_sizes_used(rows),
        )
        owners = {key: entry.name for key, (entry, _) in rows.keys.items()}
        mirrors = solve_layout(network)
        solved = solved_as(mirrors, owners)
        if solved.left_open and (settled := ring_angles(rows, network, solved, entries)) is not None:
            network, mirrors = settled, solve_layout(settled)
            solved = solved_as(mirrors, owners)
        self.layout.readings.append(PageReadings(page, network, dict(rows.keys)))
        if not rows.found:
            before = len(self.found)
            solved = self._agreed(network, mirrors, solved, rows)
            disagree = len(self.found) > before
            self.found.extend(explain(solved, rows, entries))
            if not disagree:
                self.found.extend(unmet_sides(network, solved, rows))
        self._keep(solved, rows, page, entries)
        self.lost |= {name for name in broken if name}

    def _agreed(self, network: Network, mirrors: Mirrors, solved: Solved, rows: Rows) -> Solved:
        """Where readings check each other: the places they agree on, sizes included; what disagrees is
        answered.
        """
        if solved.left_open or solved.two_places or not (solved.misfits or redundant(network)):
            return solved
        if not solved.misfits and all(abs(one) < MET for one in solved.residuals.values()):
            return solved  # every reading is met as it stands: there is nothing to share out
        from ..network.adjust import EXACT_U, adjust
        from ..network.hypotheses import usual_alternatives
        from ..network.suspects import verdicts

        adjusted = adjust(network, mirrors)
        if any(not test.fits for test in adjusted.tests):
            alternatives = usual_alternatives(network, EXACT_U, typed_numbers(rows.keys))
            behind = {row.key: row for row in network.rows if isinstance(row, Distance)}
            told = disagreements(verdicts(adjusted, alternatives), rows.keys, behind)
            self.found.extend(told)
            # which side things lie on can't be judged before it is known which reading is wrong
            return replace(solved, misfits=()) if told else solved
        sides = tuple(one for one in solved.misfits if {side.key for side in rows.sides} & set(one.keys))
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

    def _keep(self, solved: Solved, rows: Rows, page: str, entries: list[Entry]) -> None:
        for name, line in solved.lines.items():
            if name in self.claims.entries:
                self.layout.lines[name] = (page, line)
        for name, fixed in rows.fixed_lines.items():
            if name in self.claims.entries:
                self.layout.lines.setdefault(name, (page, _placed(fixed)))
        for entry in entries:
            if entry.name in solved.things:
                _, base, out = self.pages.stand(entry.name)
                turn = self.turns.get(entry.name, 0.0)
                self.layout.spots[entry.name] = Spot(
                    page, solved.things[entry.name], base, out, turn, spot_half(entry)
                )
        for key, residual in solved.residuals.items():
            if key in rows.keys:
                entry, claim = rows.keys[key]
                self.layout.residuals[(entry.name, claim.text)] = residual

    @staticmethod
    def _datum_body(rows: Rows, entries: list[Entry]) -> None:
        """A body that leans on nothing, on a page that nothing else ties down, is where the page begins.

        The page's origin is free then, so nothing is lost; and things read from its sides stay independent of
        one another, which thousands of holes in one plate need."""
        if (
            rows.fixed
            or rows.fixed_lines
            or any(
                claim.word == "at" and claim.get("other") is None
                for entry in entries
                for claim in entry.claims
            )
        ):
            return
        bodies = [
            one for one in entries if one.kind in BOXES and not any(c.word in PLACING for c in one.claims)
        ]
        if bodies:
            rows.datum = bodies[0].name
            rows.fixed[rows.datum] = FixedThing(rows.thing(bodies[0]), (0.0, 0.0))

    def _datums(self, rows: Rows, entries: list[Entry]) -> None:
        """Lines without facts give the page its direction: where `laid` says they lie, else level."""
        laid = {one.thing.name: one for one in self._laid() if one.wording == "at the"}
        for entry in entries:
            if entry.kind != "line":
                continue
            bare = all(
                claim.word == "on" and self.pages.is_flat(claim.ref("thing")) for claim in entry.claims
            )
            angle, side = _AT_SIDE[laid[entry.name].where] if entry.name in laid else (0.5 * math.pi, 0)
            if entry.name not in laid and self._laid_as(entry.name, "upright"):
                angle = 0.0
            if bare:
                rows.fixed_lines[entry.name] = FixedLine(entry.name, angle, 0.0, side)
        if len(rows.fixed_lines) > 1:
            self._two_datums(rows)

    def _two_datums(self, rows: Rows) -> None:
        names = sorted(rows.fixed_lines)
        angles = {round(line.angle, 6) for line in rows.fixed_lines.values()}
        if len(angles) == len(names) == 2:
            return
        entry = self.claims.entries[names[-1]]
        said = (
            f"line `{names[-1]}` has no facts, and neither has `{names[0]}`: only one can give the direction"
        )
        advice = ("say how it lies: parallel to, square to, through two things, or tangent to two rounds",)
        others = (Label(self.claims.entries[names[0]].span, "the other line"),)
        self.found.append(
            Diagnostic("left-open", Severity.ERROR, said, entry.span, others=others, advice=advice)
        )

    def _laid(self) -> tuple[LaidAs, ...]:
        claim = self.claims.recipe.one("laid") if self.claims.recipe else None
        phrases = claim.get("phrases") if claim is not None else ()
        return tuple(one for one in phrases if isinstance(one, LaidAs)) if isinstance(phrases, tuple) else ()

    def _laid_as(self, name: str, wording: str) -> bool:
        return any(one.wording == wording and one.thing.name == name for one in self._laid())

    def _laid_sides(self, rows: Rows) -> None:
        claim = self.claims.recipe.one("laid") if self.claims.recipe else None
        if claim is None or self.claims.recipe is None:
            return
        rows.entry_at_work, rows.claim_at_work = self.claims.recipe, claim
        for one in self._laid():
            name = one.thing.name
            if one.other is not None and (name in rows.things or one.other.name in rows.things):
                if not self._on_sheet_yet(rows, one.thing) or not self._on_sheet_yet(rows, one.other):
                    continue  # placed in a later step, and compared then
                other = rows.line(one.other) or rows.centre(one.other)
                if other is not None:
                    rows.sides.append(Side(rows.key(), name, one.wording.split()[0], other))
            elif one.wording in ("level", "upright", "at the") and name in rows.lines:
                angle = 0.0 if one.wording == "level" or one.where in ("top", "bottom") else 0.5 * math.pi
                rows.rows.append(LineAngle(rows.key(), name, None, angle, EXACT))

    def _on_sheet_yet(self, rows: Rows, ref: Ref) -> bool:
        known = (rows.things, rows.fixed, rows.lines, rows.fixed_lines, self.layout.spots, self.layout.lines)
        return any(ref.name in some for some in known)


def _placed(fixed: FixedLine) -> PlacedLine:
    return PlacedLine(fixed.angle, fixed.offset)


def _sizes_used(rows: Rows) -> tuple[SizeReading, ...]:
    """The sizes that some thing of the page has (a size shared with another page's thing has no reading
    here).
    """
    used = {thing.size for thing in rows.things.values()}
    return tuple(one for name, one in sorted(rows.sizes.items()) if name in used)


def _owner(rows: Rows, diagnostic: Diagnostic) -> str:
    for entry, claim in rows.keys.values():
        if claim.span == diagnostic.span:
            return entry.name
    return ""


def _is_copy(ref: Ref) -> bool:
    return ref.part.isdigit() and int(ref.part) > 1


def _read_to(entry: Entry) -> list[Ref]:
    """The things that an entry's place leans on."""
    found: list[Ref] = []
    for claim in entry.claims:
        if claim.word in PLACING or entry.kind == "line":
            found.extend(value for _, value in claim.values if isinstance(value, Ref) and value.name)
    return found
