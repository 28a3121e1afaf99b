"""Out of this room: every named thing placed in its plane, and in plain terms what is open, ambiguous or contradictory.

`place_all` places a whole recipe; `solve_network` one plane's network of readings (see `types`).
"""

from .places import place_all
from .solve import solve_network

__all__ = ["place_all", "solve_network"]
