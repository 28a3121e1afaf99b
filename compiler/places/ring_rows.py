"""What is read of a ring as a whole: the chord between neighbours, or the pitch circle, places the thing it
copies.

A chord c between centres of n copies that fill the circle, or stand a step t apart, means a radius of c / (2
sin(t / 2)), with t = 2 pi / n (chord theorem).  Between edges c is the reading plus or minus the size of the
copies as read."""

from __future__ import annotations

import math

from msgspec.structs import astuple, replace

from ..diagnostics.types import Trouble
from ..facts import Claim, Entry
from ..facts.extents import across
from ..network.types import Distance, Edge, Heading, Network, Solved
from .rows import EXACT, Rows


def add_ring_readings(rows: Rows, here: set[str]) -> None:
    """Add the readings of every ring whose first thing is placed in this step; `here` holds the names of
    those.
    """
    for ring in rows.claims.of_kind("ring"):
        read, of = ring.all("from next", "pitch circle"), ring.one("of")
        if not read or of is None or of.refs("things")[0].name not in here:
            continue
        names = [ref.name for ref in of.refs("things")]
        rows.entry_at_work = ring
        for claim in read:
            rows.claim_at_work = claim
            if len(names) > 1:
                rows.refuse(
                    "which-body",
                    f"`{claim.text}` is read between copies of one thing, and ring `{ring.name}` is of "
                    f"{len(names)}",
                    f"make a ring of {names[0]} alone, and another of the rest",
                )
                continue
            _add(rows, ring, claim, rows.claims.entries[names[0]])


def _add(rows: Rows, ring: Entry, claim: Claim, thing: Entry) -> None:
    about = ring.one("about")
    assert about is not None
    centre = rows.centre(about.ref("thing"))
    if centre is None:
        return
    try:
        share, plus, u = behind(ring, claim, thing)
    except Trouble as trouble:
        rows.refuse(trouble.code, trouble.says, *trouble.advice)
        return
    value = share * (claim.quantity("readings").value + plus)
    if value <= 0:
        rows.refuse(
            "bad-size",
            f"`{claim.text}` leaves no room between the copies",
            "check the reading and its edge word",
        )
        return
    rows.rows.append(
        Distance(
            rows.key(),
            thing.name,
            centre,
            Edge.CENTRE,
            Edge.CENTRE,
            value,
            max(u * share, EXACT),
            (share, plus),
        )
    )


def behind(ring: Entry, claim: Claim, thing: Entry) -> tuple[float, float, float]:
    """How a reading of a ring tells its pitch radius: (share, plus, u) in radius = share * (reading + plus),
    u that of the bracket.  Raises Trouble('never-read') and 'bad-count'."""
    u = claim.quantity("readings").u
    if claim.word != "from next":
        return 0.5, 0.0, u
    count, over, size, plus = ring.one("count"), ring.one("over"), across(thing), 0.0
    assert count is not None
    edges = claim.word_of("edges")
    if edges != "centres":
        if size is None or size.read is None:
            raise Trouble(
                "never-read",
                f"the size of {thing.name} was never read, so its copies have no edges to read to",
                (thing.name,),
                advice=("give its size as read, or read between centres",),
            )
        plus, u = (1.0 if edges == "near-near" else -1.0) * size.read.value, math.hypot(u, size.read.u)
    number = int(count.number("count"))
    angle = (
        2.0 * math.pi / number if over is None else math.radians(over.number("angle")) / max(1, number - 1)
    )
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

    Only where all that a page holds is such a turning, what is around it and full rings about it: there no
    angle can matter but that between rings, and of one ring it is chosen so as a frame.  None where there is
    nothing to settle."""
    about: dict[str, str] = {}
    for ring in rows.claims.of_kind("ring"):
        of, centre = ring.one("of"), ring.one("about")
        if (
            of is not None
            and centre is not None
            and ring.one("over") is None
            and ring.all("from next", "pitch circle")
        ):
            about |= {ref.name: str(centre.ref("thing")) for ref in of.refs("things")}
    middles = {about[one.name] for one in solved.left_open if one.name in about}
    if len(middles) != 1:
        return None
    (middle,) = middles
    found = rows.claims.entries.get(middle)
    here = [
        *entries,
        *(rows.claims.entries[name] for name in sorted(rows.fixed) if name in rows.claims.entries),
    ]
    if found is None or found.kind != "turning" or not all(_turns_with(one, middle, about) for one in here):
        return None
    said = [*network.rows, *network.sides, *network.roughly]
    free = [
        one
        for one in sorted(about)
        if one in rows.things and all(_only_how_far(row, one, middle) for row in said if one in astuple(row))
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
        and row.edge_a is row.edge_b is Edge.CENTRE
    )


def _turns_with(entry: Entry, middle: str, about: dict[str, str]) -> bool:
    """Whether a thing looks the same wherever the page is turned to: the middle itself, what is around it, a
    ring's first.
    """
    around = entry.one("around")
    return (
        entry.name == middle
        or about.get(entry.name) == middle
        or (around is not None and str(around.ref("thing")) == middle)
    )
