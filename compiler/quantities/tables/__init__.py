"""What comes out of here: the tables of the trade - screws, tolerance grades, fits, plastics - each with its
source.  Each is loaded when it is asked for: few recipes need more than one.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .fits import FITS, FitAllowance
    from .grades import BAND_TOPS, GRADES, tolerance_grade
    from .instruments import INSTRUMENTS, Instrument
    from .plastics import PLASTICS, Plastic, plastic
    from .pockets import Pocket, pocket
    from .screws import SCREWS, Clearance, Nut, Screw, SocketHead, SunkHead, Washer, screw
    from .threads import MetricThread, is_thread_name, metric_thread

__all__ = [
    "BAND_TOPS",
    "FITS",
    "GRADES",
    "INSTRUMENTS",
    "PLASTICS",
    "SCREWS",
    "Clearance",
    "FitAllowance",
    "Instrument",
    "MetricThread",
    "Nut",
    "Plastic",
    "Pocket",
    "Screw",
    "SocketHead",
    "SunkHead",
    "Washer",
    "is_thread_name",
    "metric_thread",
    "plastic",
    "pocket",
    "screw",
    "tolerance_grade",
]

_FILES = {
    "fits": ("FITS", "FitAllowance"),
    "grades": ("BAND_TOPS", "GRADES", "tolerance_grade"),
    "instruments": ("INSTRUMENTS", "Instrument"),
    "plastics": ("PLASTICS", "Plastic", "plastic"),
    "pockets": ("Pocket", "pocket"),
    "screws": ("SCREWS", "Clearance", "Nut", "Screw", "SocketHead", "SunkHead", "Washer", "screw"),
    "threads": ("MetricThread", "is_thread_name", "metric_thread"),
}


def __getattr__(name: str) -> Any:
    """What one table holds, from its file."""
    for file, names in _FILES.items():
        if name in names:
            return getattr(import_module(f".{file}", __name__), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
