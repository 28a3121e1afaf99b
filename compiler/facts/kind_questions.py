"""What other rooms ask of a statement's kind, so that none of them compares it with a word."""

from __future__ import annotations

from ..kinds import traits
from .needs import BODIES, BOXES, CENTRED, FIT_WORDS, HOLES, PATTERNS, ZONES
from .types import Claim, Entry, Ref


def is_body(entry: Entry) -> bool:
    """True for a body, of which a part is made."""
    return entry.kind in BODIES


def has_box(entry: Entry) -> bool:
    """True for a body with a box of three sizes: a block, or one that comes from a file."""
    return entry.kind in BOXES


def is_centred(entry: Entry) -> bool:
    """True for what is placed by its middle and can be read to."""
    return entry.kind in CENTRED


def is_zone(entry: Entry) -> bool:
    """True for a place of a body that is thickened, relieved or grown."""
    return entry.kind in ZONES


def is_pattern(entry: Entry) -> bool:
    """True for a row, ring, grid or mirror."""
    return entry.kind in PATTERNS


def can_be_copied(entry: Entry) -> bool:
    """True for what a pattern can be of: bodies, holes, zones, what has a middle, and other patterns."""
    return entry.kind in BODIES | HOLES | CENTRED | ZONES | PATTERNS


def is_line(entry: Entry) -> bool:
    """True for a line."""
    return entry.kind == "line"


def is_plane(entry: Entry) -> bool:
    """True for a plane that stands on, leans from or lies over something."""
    return entry.kind == "plane"


def is_point(entry: Entry) -> bool:
    """True for a bare point."""
    return entry.kind == "point"


def is_turning(entry: Entry) -> bool:
    """True for a turning: a body of stations along its axis."""
    return entry.kind == "turning"


def is_neighbour(entry: Entry) -> bool:
    """True for a thing that was measured and is no part of the piece."""
    return entry.kind == "neighbour"


def is_slot(entry: Entry) -> bool:
    """True for a slot: its size across is its width."""
    return entry.kind == "slot"


def is_turned(entry: Entry) -> bool:
    """True for what lies some way round on its plane, which the solver must know: a slot, notch or mark."""
    return traits(entry.kind).turned


def is_spanning(entry: Entry) -> bool:
    """True for what lies between two flats: a rib, rim or fillet."""
    return traits(entry.kind).spans


def is_hole(entry: Entry) -> bool:
    """True for a bore, slot or notch."""
    return entry.kind in HOLES


def is_ring(entry: Entry) -> bool:
    """True for a ring of copies."""
    return entry.kind == "ring"


def is_grid(entry: Entry) -> bool:
    """True for a grid of copies."""
    return entry.kind == "grid"


def is_mirror(entry: Entry) -> bool:
    """True for a pair of which one is mirrored."""
    return entry.kind == "mirror"


def has_fit(entry: Entry) -> bool:
    """True for a hole or peg that is made to fit something."""
    return entry.has(*FIT_WORDS)


def counts_depth_from_foot(entry: Entry) -> bool:
    """True for a hole whose depth is counted from where it stands: `deep` without a flat."""
    deep = entry.one("deep")
    return deep is not None and deep.get("thing") is None


def flats_of_depths(entry: Entry) -> tuple[Ref, ...]:
    """The flats from which the depth of a hole and of its mouths is counted, or at which they begin."""
    told = entry.all("deep", "counterbore", "countersink")
    flats = [claim.get(key) for claim in told for key in ("thing", "other")]
    return tuple(flat for flat in flats if isinstance(flat, Ref))


def same_as(entry: Entry) -> Ref | None:
    """The thing that shares its size with this one (`same as OTHER`), None where there is none."""
    alike = entry.one("same as")
    return None if alike is None else alike.ref("thing")


def is_drilled(claim: Claim) -> bool:
    """True for a size that was read with drills: what goes in bounds it from below."""
    return claim.word == "drill"
