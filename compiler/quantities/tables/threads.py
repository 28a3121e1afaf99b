"""ISO metric threads M1 to M64: pitches of the coarse and fine series, and the names they go by.  All sizes
in mm.

Sources.  Coarse pitches to M12 are those of `screws` (two published tables each); the coarse pitches above
and all fine pitches (ISO 261, ISO 262) are from memory, and a fine pitch can always be named instead:
M12x1.5."""

from __future__ import annotations

import math
import re

from msgspec import Struct

from ...diagnostics.types import Trouble
from .screws import SCREWS
from .unknown import unknown

_COARSE = {
    14.0: 2.0, 16.0: 2.0, 18.0: 2.5, 20.0: 2.5, 22.0: 2.5, 24.0: 3.0, 27.0: 3.0, 30.0: 3.5, 33.0: 3.5, 36.0: 4.0, 39.0: 4.0,
    42.0: 4.5, 45.0: 4.5, 48.0: 5.0, 52.0: 5.0, 56.0: 5.5, 60.0: 5.5, 64.0: 6.0,
}  # fmt: skip
_FINE: dict[float, tuple[float, ...]] = {
    1.0: (0.2,), 1.2: (0.2,), 1.4: (0.2,), 1.6: (0.2,), 1.8: (0.2,), 2.0: (0.25,), 2.5: (0.35,), 3.0: (0.35,), 3.5: (0.35,),
    4.0: (0.5,), 5.0: (0.5,), 6.0: (0.75,), 7.0: (0.75,), 8.0: (1.0,), 10.0: (1.25, 1.0), 12.0: (1.5, 1.25), 14.0: (1.5,),
    16.0: (1.5,), 18.0: (2.0, 1.5), 20.0: (2.0, 1.5), 22.0: (2.0, 1.5), 24.0: (2.0,), 27.0: (2.0,), 30.0: (2.0,), 33.0: (2.0,),
    36.0: (3.0,), 39.0: (3.0,), 42.0: (3.0,), 45.0: (3.0,), 48.0: (3.0,), 52.0: (4.0, 3.0), 56.0: (4.0,), 60.0: (4.0,),
    64.0: (4.0,),
}  # fmt: skip
COARSE: dict[str, float] = {row.name: row.pitch for row in SCREWS.values()} | {
    f"M{d:g}": p for d, p in _COARSE.items()
}
NAME = re.compile(r"[Mm](\d{1,3}(?:\.\d{1,2})?)(?:[xX](\d{1,2}(?:\.\d{1,3})?))?")


class MetricThread(Struct, frozen=True):
    """An ISO metric thread by its diameter over the crests and its pitch; the basic profile of ISO 68-1."""

    across: float
    pitch: float

    @property
    def name(self) -> str:
        """As it is written: M8, or M8x1 where the pitch is not the coarse one."""
        size = f"M{self.across:g}"
        return size if COARSE.get(size) == self.pitch else f"{size}x{self.pitch:g}"

    @property
    def triangle(self) -> float:
        """H, the height of the sharp triangle: sqrt(3)/2 P."""
        return math.sqrt(0.75) * self.pitch

    @property
    def core(self) -> float:
        """D1 = d1 = d - 5/4 H, where crests of the nut thread end."""
        return self.across - 1.25 * self.triangle

    @property
    def root(self) -> float:
        """d3 = d - 17/12 H, the bottom of the bolt's root, rounded with H/6."""
        return self.across - 17.0 / 12.0 * self.triangle


def metric_thread(name: str, fine: bool = False) -> MetricThread:
    """The thread of that name: `M8` (coarse), `M8` with `fine`, or its pitch named, `M8x1`.

    Raises Trouble: 'unknown-thread' for a size or pitch that is none, 'which-pitch' where a size has two fine
    pitches."""
    seen = NAME.fullmatch(name)
    size = f"M{float(seen[1]):g}" if seen else ""
    if seen is None or size not in COARSE:
        raise unknown("thread", name, COARSE, _neighbours(float(seen[1])) if seen else [])
    across = float(seen[1])
    if seen[2] is not None:
        pitch = float(seen[2])
        if not 0.1 <= pitch <= min(8.0, 0.5 * across):
            raise Trouble("unknown-thread", f"`{name}`: no {size} thread has a pitch of {pitch:g}",
                          advice=(f"its usual pitches: {_pitches(size)}",))  # fmt: skip
        return MetricThread(across, pitch)
    if not fine:
        return MetricThread(across, COARSE[size])
    pitches = _FINE[across]
    if len(pitches) > 1:
        some = "   or   ".join(f"{size}x{one:g}" for one in pitches)
        raise Trouble(
            "which-pitch", f"{size} has more than one fine pitch", advice=(f"name the pitch: {some}",)
        )
    return MetricThread(across, pitches[0])


def is_thread_name(text: str) -> bool:
    """True for what is written like a metric thread, whether there is such a one or not."""
    return NAME.fullmatch(text) is not None


def _pitches(size: str) -> str:
    return ", ".join(f"{one:g}" for one in (COARSE[size], *_FINE[float(size[1:])]))


def _neighbours(across: float) -> list[str]:
    sizes = [float(one[1:]) for one in COARSE]
    near = [
        max((one for one in sizes if one < across), default=0.0),
        min((one for one in sizes if one > across), default=0.0),
    ]
    return [f"M{one:g}" for one in near if one]
