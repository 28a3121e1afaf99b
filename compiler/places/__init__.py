"""Out of this room: every named thing placed in its plane, and in plain terms what is open, ambiguous or
contradictory.

`place_all` places a whole recipe."""

from .placing import place_all

__all__ = ["place_all"]
