"""What comes out of this room: answers to questions asked of the finished part, and of what was written but
not used.
"""

from .checking import check_part

__all__ = ["check_part"]
