"""The pockets of a screw joint by the screw's name: room for a head, a nut or a washer.  All sizes in mm.

- counterbore for a cylinder head (ISO 4762): diameters of tables that follow DIN 974-1; the head lies `UNDER`
below the
  flat, as a published shop table has it (3.5 deep for M3 to 12.5 for M12); no standard
- counterbore for a nut (ISO 4032): its largest size across flats and `PLAY`, as deep as the highest nut
- counterbore for a washer (ISO 7089): its largest size across and `PLAY`, as deep as it is thick
- countersink of 90 degrees: the sharp edge of an ISO 10642 head or of an ISO 7046 one, whichever is wider, so
that neither
  stands proud (they differ by less than 1 mm: the other lies as much as half of that below the flat)
"""

from __future__ import annotations

from msgspec import Struct

from ...diagnostics.types import Trouble
from .screws import SCREWS, Screw, screw

UNDER = 0.5
PLAY = 0.2
"""How much wider a pocket is than the largest nut or washer that it takes; common practice, no source."""

_WITH_SIZES = {"counterbore": "counterbore 8 deep 4", "countersink": "countersink 9", "hex": "hex 7"}


class Pocket(Struct, frozen=True):
    """A pocket: of which screw, mm across (of a nut: across flats), mm deep (0 for a countersink: its hole
    decides), and the standard of what it takes."""

    screw: str
    across: float
    depth: float
    standard: str


def pocket(word: str, name: str, which: str = "") -> Pocket:
    """The pocket of a screw: `word` counterbore, countersink or hex, `which` nut, washer or '' (its head).

    Raises Trouble('unknown-screw') where there is no such screw, or the tables end before this part of it.
    """
    known = [one.name for one in SCREWS.values() if _pocket(word, one, which) is not None]
    told = f"known are {', '.join(known)}"
    try:
        made = screw(name)
    except Trouble as trouble:
        raise Trouble(
            trouble.code, trouble.says, trouble.names, advice=(*trouble.advice[:-1], told)
        ) from None
    found = _pocket(word, made, which)
    if found is None:
        what = " ".join(one for one in (word, made.name, which) if one)
        raise Trouble("unknown-screw", f"the tables give no `{what}`", (name,),
                      advice=(told, f"give the size instead: {_WITH_SIZES[word]}"))  # fmt: skip
    return found


def _pocket(word: str, made: Screw, which: str) -> Pocket | None:
    nut, washer = made.nut, made.washer
    if which == "nut":
        return (
            None
            if nut is None
            else Pocket(made.name, round(nut.flats_most + PLAY, 3), nut.height_most, "ISO 4032")
        )
    if which == "washer":
        return (
            None
            if washer is None
            else Pocket(made.name, round(washer.across + PLAY, 3), washer.thick, "ISO 7089")
        )
    if word == "countersink":
        heads = [
            (sunk.sharp, name)
            for sunk, name in ((made.sunk_socket, "ISO 10642"), (made.sunk_cross, "ISO 7046"))
            if sunk
        ]
        return Pocket(made.name, max(heads)[0], 0.0, max(heads)[1]) if heads else None
    if made.counterbore is None or made.socket_head is None:
        return None
    return Pocket(made.name, made.counterbore, made.socket_head.height + UNDER, "ISO 4762")
