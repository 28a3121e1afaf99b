"""How far a reading may be off, by what it was taken with.

Limits are +- a, taken as rectangular: u = a / sqrt 3 (JCGM 100:2008, 4.3.7).  They are for a person at a
table with a plastic part, not for the tool's own error, which is smaller: common practice, no source, with
the reason beside each."""

from __future__ import annotations

from msgspec import Struct


class Instrument(Struct, frozen=True):
    """A tool: limit of a reading (mm, degrees for the protractor), and why it is no smaller."""

    name: str
    limit: float
    why: str
    angle: bool = False


INSTRUMENTS: dict[str, Instrument] = {
    one.name: one
    for one in (
        Instrument(
            "calliper",
            0.05,
            "jaws tilt, edges are rounded and soft plastic gives; the scale itself is good to 0.02",
        ),
        Instrument(
            "drill", 0.05, "half the usual step of 0.1 between drills; with `not` the step typed counts"
        ),
        Instrument("rule", 0.3, "half a division of 0.5, and looking at it askew"),
        Instrument("gauge", 0.25, "half the step of 0.5 between radius gauges"),
        Instrument(
            "photo", 0.5, "the lens, the height of edges above what gives the scale, and picking points"
        ),
        Instrument("protractor", 0.5, "half a division of a degree", angle=True),
    )
}
