"""Places everything: plane after plane, each from its own readings and from planes that are placed before it.

Planes that stand on a side or a line wait for the body or line they stand on.  On a plane, a slot that runs
along a line whose direction is itself read waits until that line is placed (its half-size in a direction is
not known before)."""

from __future__ import annotations

from contextlib import suppress

from ..diagnostics.types import Diagnostic, Severity, Trouble
from ..facts import Claims, Entry, Ref
from ..facts.kind_questions import is_body, is_centred, is_line, is_neighbour, is_plane, is_turned
from ..facts.placing import PlaceFact
from ..facts.placing_reader import spoken_of
from .layout import Frame, Layout
from .patterns import Copying
from .planes import SHEET, Planes, dependencies
from .solving import PlaneSolver
from .turned import turn_of


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
        self.turns: dict[str, float] = {}
        self.solver = PlaneSolver(self.pages, self.turns, self.found)
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
            if is_body(self.claims.entries[name]):
                self._guarded(name, lambda name=name: self.pages.heights(name))
        self.copying.run()
        _complete(self.pages)

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
            if not (is_centred(entry) or is_line(entry) or is_plane(entry) or is_body(entry)):
                continue
            if is_neighbour(entry) and name not in read_to and not self.facts[name].all(PlaceFact):
                continue
            self._guarded(name, lambda name=name: pages.setdefault(self.pages.stand(name)[0], []))
            if name in self.lost or not (is_centred(entry) or is_line(entry)):
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
            self.lost |= self.solver.solve(plane, ready, first)
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
        turn = turn_of(self.pages, entry, plane)
        if turn is not None:
            self.turns[entry.name] = turn
        return turn is not None


def _complete(pages: Planes) -> None:
    """Work out, once all is placed, where everything stands and the frames of all planes that something
    speaks of, so that later rooms need only look them up.
    """
    for placing in pages.facts.of.values():
        with suppress(Trouble):
            pages.stand(placing.name)
        for ref in spoken_of(placing.entry):
            with suppress(Trouble):
                _complete_plane(pages, ref)


def _complete_plane(pages: Planes, ref: Ref) -> None:
    if pages.is_flat(ref) and ref.name:
        plane = pages.flat_page(ref)[0]
        frame = pages.frame(plane) if plane not in pages.layout.frames else None
        if frame is not None:
            pages.layout.frames[plane] = frame


def _is_copy(ref: Ref) -> bool:
    return ref.part.isdigit() and int(ref.part) > 1
