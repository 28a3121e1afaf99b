"""The solver alone: rows of a network in, places and their covariance out.  It knows no recipe and writes no
prose.

`solve_network` solves one plane's network of readings (see `types`).  What shares out the misfit of readings
and finds the wrong one (`adjust`, `fit_tests`, `hypotheses`, `suspects`) is loaded when it is asked for: most
recipes read nothing twice."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from .solve import solve_network

if TYPE_CHECKING:
    from . import adjust, fit_tests, hypotheses, suspects

__all__ = ["adjust", "fit_tests", "hypotheses", "solve_network", "suspects"]


def __getattr__(name: str) -> Any:
    """A file that only networks with readings to spare need."""
    if name in ("adjust", "fit_tests", "hypotheses", "suspects"):
        return import_module(f".{name}", __name__)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
