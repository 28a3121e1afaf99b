"""What comes out of this room: what the writer claims, with every name and number understood.  No places
yet.
"""

from .claims_builder import state_tree
from .import_requests import import_requests
from .stray import stray_readings
from .types import Claim, Claims, Entry, Measure, Ref

__all__ = [
    "Claim",
    "Claims",
    "Entry",
    "Measure",
    "Ref",
    "import_requests",
    "state_tree",
    "stray_readings",
]
