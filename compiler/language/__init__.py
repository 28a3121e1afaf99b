"""What comes out of this room: the table of line shapes, what its slots take, and what the items of a line
fill them with.  What a recipe says with its lines is worked out in `tree` and `facts`.
"""

from .matching import Mismatch, match
from .shapes import kinds, members
from .slots import SlotType

__all__ = ["Mismatch", "SlotType", "kinds", "match", "members"]
