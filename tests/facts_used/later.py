"""Cases that do not hold yet, each with what it waits for.  Whoever mends one takes it off: it must fail
while it stands here."""

from __future__ import annotations

UNUSED = "a fact that nothing takes is answered by the room that takes each fact once"
COPIES = "what a hole through all is taken along with"
LOADS = "loads against the layers"
READ = "readings held against the finished part, and words for them"
OPEN = "not mended yet: see the name of the case"

LATER: tuple[tuple[str, str], ...] = (
    ("A4 a ring of a body with a hole through all that has a flat", COPIES),
    ("A4 a row of a body with a hole through all beside it", COPIES),
    ("A5 a collar not wider than its bore", UNUSED),
    ("A5 a collar not wider than its bore with a ramp", UNUSED),
    ("A5 a collar wider than the outline", UNUSED),
    ("A9 a third reach of a rib", UNUSED),
    ("A9 a let where a load works", UNUSED),
    ("A11 a load that pulls the layers apart", LOADS),
    ("F3 two turnings that touch on the same round", OPEN),
    ("F3 a peg in the bore of its own size", OPEN),
    ("F3 a turning in a bored one at half height", OPEN),
    ("F4 a body put into a blind hole on purpose", OPEN),
    ("G6 a place said missing at the thing that needs it", OPEN),
    ("G10 over a mirrored pair is held as a check", READ),
    ("G10 overall of a curved outside that does not agree", READ),
)
