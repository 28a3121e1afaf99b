"""What comes out of this room: what the writer claims, with every name and number understood.  No places yet."""

from .needs import BODIES, CENTRED, HOLES, PATTERNS, ROUNDS, SHAPES, ZONES
from .stating import state_tree
from .types import Claim, Claims, Entry, Measure, Ref

__all__ = [
    "BODIES", "CENTRED", "HOLES", "PATTERNS", "ROUNDS", "SHAPES", "ZONES", "Claim", "Claims", "Entry", "Measure", "Ref",
    "state_tree",
]  # fmt: skip
