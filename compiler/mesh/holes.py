"""Holes as cutters: where they start, how deep they go, which body they belong to."""

from __future__ import annotations

from collections.abc import Sequence

from ..diagnostics.types import Trouble
from ..facts import BODIES, Claims, Entry, Ref
from ..facts.needs import THREAD_WORDS
from ..kinds.thread.model import form_of
from ..kinds.thread.ridges import Wound
from ..kinds.thread.solid import threaded_tool
from ..model import Model
from ..outlines import Region, canonical, facet
from ..outlines.marks import Marks
from ..outlines.outlining import Outliner
from ..places.layout import Frame, Layout, Spot
from ..places.planes import Pages
from .combine import place
from .kernel import Solid, added
from .open_corners import closed_corners
from .prisms import prism
from .tools import cone_tool, round_tool
from .workshop import axes

BEYOND = 1.0


class Holes:
    """Makes the cutters of bores, slots and notches."""

    def __init__(
        self,
        model: Model,
        claims: Claims,
        layout: Layout,
        pages: Pages,
        outliner: Outliner,
        marks: Marks,
        chord: float,
    ) -> None:
        self.model, self.claims, self.layout, self.pages = model, claims, layout, pages
        self.outliner, self.marks, self.chord = outliner, marks, chord
        self.flip = (claims.recipe is not None and claims.recipe.has("other hand")) != claims.flipped
        self.bodies = [entry.name for entry in claims.entries.values() if entry.kind in BODIES]

    def owners(self, entry: Entry) -> tuple[str, ...]:
        """The bodies a hole cuts: those it goes `through`, else the body whose flat it is on or deep from,
        else the body it is around, else the only body, else the one whose sides it is read from, else the
        only one of its plane."""
        through = entry.one("through")
        if through is not None:
            names = [ref.name for ref in through.refs("things")]
            return tuple(self.bodies) if "" in names else tuple(sorted(set(names)))
        for claim in (*entry.all("deep"), *entry.all("on"), *entry.all("counterbore", "countersink")):
            for key in ("thing", "other"):
                ref = claim.get(key)
                if isinstance(ref, Ref) and ref.name and self._is_body(ref.name):
                    return (ref.name,)
        around = entry.one("around")
        if around is not None and self._is_body(around.ref("thing").name):
            return (around.ref("thing").name,)
        if len(self.bodies) == 1:
            return tuple(self.bodies)
        read_from = self._read_from(entry)
        if len(read_from) == 1:
            return tuple(read_from)
        page = self.layout.spots[entry.name].page
        here = [name for name in self.bodies if self.pages.stand(name)[0] == page]
        if len(here) == 1:
            return tuple(here)
        some = here or self.bodies
        raise Trouble(
            "which-body",
            f"{entry.kind} `{entry.name}` could go through several bodies: " + ", ".join(some),
            (entry.name,),
            advice=(f"through {some[0]}" if some else "make a body first", "through all"),
        )

    def _read_from(self, entry: Entry) -> set[str]:
        """The bodies whose sides a hole's place is read from."""
        found = set()
        for claim in entry.all("from", "midway", "flush with"):
            for key in ("thing", "first", "second"):
                ref = claim.get(key)
                if isinstance(ref, Ref) and ref.part and self._is_body(ref.name):
                    found.add(ref.name)
        return found

    def _is_body(self, name: str) -> bool:
        return name in self.claims.entries and self.claims.entries[name].kind in BODIES

    def plain(self, entry: Entry) -> bool:
        """True for a round hole straight through, which can be let into a plate's outline at once."""
        return entry.kind == "bore" and not entry.has(
            "deep",
            "counterbore",
            "countersink",
            "flat",
            "flats",
            "hex",
            "square",
            "through",
            "on",
            "turned",
            "serrated",
            "splines",
            *THREAD_WORDS,
        )

    def tool(self, entry: Entry, reach: tuple[float, float], around: Sequence[Solid] | None = None) -> Solid:
        """The cutter of a hole in space; `reach` is the lowest and highest height of its bodies over its
        page, `around` the material that closes its corners (None: all are closed).  Trouble('no-corner').
        """
        spot = self.layout.spots[entry.name]
        frame = self.layout.frames[spot.page]
        low, high = self._depth(entry, spot, (reach[0] - BEYOND, reach[1] + BEYOND))
        threaded = entry.has(*THREAD_WORDS)
        bare = (
            self._threaded(entry, spot, low, high, reach)
            if threaded
            else self._plain(entry, spot, low, high, around)
        )
        parts = [bare, *self._mouth(entry, spot, reach)]
        tool = parts[0] if len(parts) == 1 else added(parts)
        return tool if frame == Frame() else place(tool, frame.origin, axes(frame))

    def _plain(
        self, entry: Entry, spot: Spot, low: float, high: float, around: Sequence[Solid] | None
    ) -> Solid:
        closed = None
        if around is not None and entry.kind == "notch" and entry.has("round inside"):
            corners = self.outliner.notch_corners(entry, spot.at, spot.turn)
            closed = closed_corners(entry, corners, self.layout.frames[spot.page], (low, high), around)
        path = self.outliner.hole(entry, spot.at, spot.turn, closed)
        region: Region = canonical([facet(path, self.chord, hole=True)])
        label = self.marks.of(entry.name, "bottom")
        return prism(_solid_side(region), low, high, label, label)

    def _threaded(
        self, entry: Entry, spot: Spot, low: float, high: float, reach: tuple[float, float]
    ) -> Solid:
        claim = entry.one(*THREAD_WORDS)
        assert claim is not None
        form, ends = form_of(claim, self.claims, True), (max(low, reach[0]), min(high, reach[1]))
        wound = Wound(form, *ends, form.left != self.flip, self.marks.of(entry.name, "thread"))
        tool = threaded_tool(wound, (low, high), self.marks.of(entry.name), self.chord)
        return tool.translate((*spot.at, 0.0))

    def _depth(self, entry: Entry, spot: Spot, reach: tuple[float, float]) -> tuple[float, float]:
        """From where to where a cutter goes, over the page."""
        deep = entry.one("deep")
        if deep is None:
            return reach
        height, out = self.flat_of(deep.get("thing"), entry, spot)
        bottom = height - out * deep.number("size")
        return (
            (bottom, max(reach[1], height + BEYOND)) if out > 0 else (min(reach[0], height - BEYOND), bottom)
        )

    def flat_of(self, ref: object, entry: Entry, spot: Spot) -> tuple[float, int]:
        """Height over the page and direction of the flat that a depth is counted from."""
        if not isinstance(ref, Ref):
            if any(self.pages.is_flat(claim.ref("thing")) for claim in entry.all("on")):
                return spot.base, spot.out
            raise Trouble(
                "which-flat",
                f"`{entry.name}` does not say from which flat its depth is counted",
                (entry.name,),
                advice=("deep 4.0 from front   or   put it on a flat: on body.front",),
            )
        if not ref.name:
            ref = Ref(self.owners(entry)[0], ref.part, ref.span)
        height = self.pages.height_of(ref, spot.page)
        return height, 1 if self.pages.faces_out(ref, spot.page) else -1

    def _mouth(self, entry: Entry, spot: Spot, reach: tuple[float, float]) -> list[Solid]:
        """Counterbore and countersink, open outwards past all that stands there."""
        claim = entry.one("counterbore", "countersink")
        if claim is None:
            return []
        ref = claim.get("thing")
        on_flat = any(self.pages.is_flat(one.ref("thing")) for one in entry.all("on"))
        if ref is None and not on_flat:
            ref = Ref("", "front", claim.span)
        height, out = self.flat_of(ref, entry, spot)
        wide, label = claim.number("number"), self.marks.of(entry.name, claim.word)
        beyond = (reach[1] - height if out > 0 else height - reach[0]) + BEYOND
        from ..facts.extents import across

        size = across(entry)
        bore = size.made.value if size is not None else 0.0
        if wide <= bore:
            raise Trouble(
                "mouth-too-small",
                f"the {claim.word} of `{entry.name}` ({wide:g}) is not wider than the hole ({bore:g})",
                (entry.name,),
            )
        if claim.word == "counterbore":
            depth = claim.number("depth")
            low, high = sorted((height - out * depth, height + out * max(beyond, BEYOND)))
            if claim.word_of("which") == "nut":
                path = self.outliner.mouth(entry, claim, (0.0, 0.0), spot.turn)
                tool = prism(canonical([facet(path, self.chord)]), low, high, label, label)
            else:
                tool = round_tool(wide, low, high, self.chord, label)
        else:
            # A countersink is 90 degrees included, as ISO 10642 heads are: its depth is half the difference.
            depth = 0.5 * (wide - bore)
            tool = cone_tool(wide, bore, height, out * depth, self.chord, label, max(beyond, BEYOND))
        return [tool.translate((spot.at[0], spot.at[1], 0.0))]


def _solid_side(region: Region) -> Region:
    """The region that the ring of a hole encloses."""
    from ..outlines import turned_over
    from ..outlines.measure import ring_area

    return canonical([ring if ring_area(ring) > 0 else turned_over(ring) for ring in region.rings])
