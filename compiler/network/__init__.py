"""The solver alone: rows of a network in, places and their covariance out.  It knows no recipe and writes no
prose.

`solve_network` solves one plane's network of readings (see `types`)."""

from .solve import solve_network

__all__ = ["solve_network"]
