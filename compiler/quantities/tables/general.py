"""General tolerances for lengths that state none: ISO 2768-1, class m.

Source: ISO 2768-1, table 1, as given alike by two published tables (the standard itself is priced and was not
read). That a filament printer keeps class m on outer sizes is common practice, no source."""

from __future__ import annotations

# up to and including this size (mm): deviation to either side (mm)
_MEDIUM = (
    (3.0, 0.1),
    (6.0, 0.1),
    (30.0, 0.2),
    (120.0, 0.3),
    (400.0, 0.5),
    (1000.0, 0.8),
    (2000.0, 1.2),
    (4000.0, 2.0),
)


def general_tolerance(size: float) -> float:
    """Deviation to either side in mm for a size in mm, class m; sizes beyond the table get its last value's
    share.
    """
    for top, deviation in _MEDIUM:
        if size <= top:
            return deviation
    return size * _MEDIUM[-1][1] / _MEDIUM[-1][0]
