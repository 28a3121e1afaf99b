"""What comes out of here: the tables of the trade - screws, tolerance grades, fits, plastics - each with its
source.
"""

from .fits import FITS, FitAllowance
from .grades import BAND_TOPS, GRADES, tolerance_grade
from .instruments import INSTRUMENTS, Instrument
from .plastics import PLASTICS, Plastic, plastic
from .screws import SCREWS, Clearance, Nut, Screw, SocketHead, SunkHead, Washer, screw
from .threads import MetricThread, metric_thread

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
    "Screw",
    "SocketHead",
    "SunkHead",
    "Washer",
    "metric_thread",
    "plastic",
    "screw",
    "tolerance_grade",
]
