"""What is read of a ring as a whole: the chord between neighbours, or the pitch circle, places the thing it
copies.

A chord c between centres of n copies that fill the circle, or stand a step t apart, means a radius of c / (2
sin(t / 2)), with t = 2 pi / n (chord theorem).  Between edges c is the reading plus or minus the size of the
copies as read."""

from __future__ import annotations

import math

from msgspec.structs import astuple, replace

from ..diagnostics.types import Trouble
from ..facts import Entry
from ..facts.extents import across
from ..facts.kind_questions import is_ring, is_turning
from ..facts.placing import About, Around, Count, FromNext, Of, OverAngle, RingReading
from ..facts.placing_reader import Placing
from ..network.types import Distance, Heading, Network, ReadEdge, Solved
from .measured_to import AtWork
from .rows import EXACT, Rows


def add_ring_readings(rows: Rows, here: set[str]) -> None:
    """Add the readings of every ring whose first thing is placed in this step; `here` holds the names of
    those.
    """
    for ring in _rings(rows):
        read, of = ring.all(RingReading), ring.one(Of)
        if not read or of is None or of.things[0].name not in here:
            continue
        names = [ref.name for ref in of.things]
        for fact in read:
            rows.at_work = AtWork(ring.entry, fact.claim, fact)
            if len(names) > 1:
                rows.refuse(
                    "which-body",
                    f"`{fact.claim.text}` is read between copies of one thing, and ring `{ring.name}` is of "
                    f"{len(names)}",
                    f"make a ring of {names[0]} alone, and another of the rest",
                )
                continue
            _add(rows, ring, fact, rows.claims.entries[names[0]])


def _rings(rows: Rows) -> list[Placing]:
    return [one for one in rows.pages.facts.of.values() if is_ring(one.entry)]


def _add(rows: Rows, ring: Placing, fact: RingReading, thing: Entry) -> None:
    about = ring.one(About)
    assert about is not None
    centre = rows.centre(about.thing)
    if centre is None:
        return
    try:
        share, plus, u = behind(ring, fact, thing)
    except Trouble as trouble:
        rows.refuse(trouble.code, trouble.says, *trouble.advice)
        return
    value = share * (fact.reading.value + plus)
    if value <= 0:
        rows.refuse(
            "bad-size",
            f"`{fact.claim.text}` leaves no room between the copies",
            "check the reading and its edge word",
        )
        return
    rows.put(
        Distance(
            rows.key(),
            thing.name,
            centre,
            ReadEdge.CENTRE,
            ReadEdge.CENTRE,
            value,
            max(u * share, EXACT),
            (share, plus),
        )
    )


def behind(ring: Placing, fact: RingReading, thing: Entry) -> tuple[float, float, float]:
    """How a reading of a ring tells its pitch radius: (share, plus, u) in radius = share * (reading + plus),
    u that of the bracket.  Raises Trouble('never-read') and 'bad-count'."""
    u = fact.reading.u
    if not isinstance(fact, FromNext):
        return 0.5, 0.0, u
    count, over, size, plus = ring.one(Count), ring.one(OverAngle), across(thing), 0.0
    assert count is not None
    if fact.edges != "centres":
        if size is None or size.read is None:
            raise Trouble(
                "never-read",
                f"the size of {thing.name} was never read, so its copies have no edges to read to",
                (thing.name,),
                advice=("give its size as read, or read between centres",),
            )
        plus, u = (1.0 if fact.edges == "near-near" else -1.0) * size.read.value, math.hypot(u, size.read.u)
    number = count.number
    angle = 2.0 * math.pi / number if over is None else math.radians(over.angle) / max(1, number - 1)
    half = abs(math.sin(0.5 * angle))
    if number < 2 or half < 1e-9:
        raise Trouble(
            "bad-count",
            f"ring `{ring.name}` has no two neighbours to read between",
            (ring.name,),
            advice=("count 2 or more",),
        )
    return 0.5 / half, plus, u


def ring_angles(rows: Rows, network: Network, solved: Solved, entries: list[Entry]) -> Network | None:
    """The network with the angle of rings settled that nothing tells: their first copy lies at the right of
    the turning.

    Only where all that a plane holds is such a turning, what is around it and full rings about it: there no
    angle can matter but that between rings, and of one ring it is chosen so as a frame.  None where there is
    nothing to settle."""
    about: dict[str, str] = {}
    for ring in _rings(rows):
        of, centre = ring.one(Of), ring.one(About)
        if of is not None and centre is not None and not ring.one(OverAngle) and ring.all(RingReading):
            about |= {ref.name: str(centre.thing) for ref in of.things}
    middles = {about[one.name] for one in solved.left_open if one.name in about}
    if len(middles) != 1:
        return None
    (middle,) = middles
    found = rows.claims.entries.get(middle)
    things = rows.net.things
    here = [
        *entries,
        *(rows.claims.entries[name] for name in sorted(rows.net.fixed) if name in rows.claims.entries),
    ]
    if found is None or not is_turning(found):
        return None
    if not all(_turns_with(rows, one, middle, about) for one in here):
        return None
    said = [*network.rows, *network.sides, *network.roughly]
    free = [
        one
        for one in sorted(about)
        if one in things and all(_only_how_far(row, one, middle) for row in said if one in astuple(row))
    ]
    if not free:
        return None
    headings = [Heading(0, middle, one, None, 0.0, EXACT) for one in free]
    return replace(network, rows=(*network.rows, *headings))


def _only_how_far(row: object, one: str, middle: str) -> bool:
    """Whether a row tells of a thing only how far its centre is from the middle: nothing of its angle."""
    return (
        isinstance(row, Distance)
        and {row.a, row.b} == {one, middle}
        and row.edge_a is row.edge_b is ReadEdge.CENTRE
    )


def _turns_with(rows: Rows, entry: Entry, middle: str, about: dict[str, str]) -> bool:
    """Whether a thing looks the same wherever the plane is turned to: the middle itself, what is around it, a
    ring's first.
    """
    around = rows.pages.facts.of[entry.name].one(Around)
    return (
        entry.name == middle
        or about.get(entry.name) == middle
        or (around is not None and str(around.thing) == middle)
    )
