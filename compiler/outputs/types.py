"""What the report of a part is made from.  Lengths in mm, mass in g, density in g/cm3."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

from ..callipers import HowItRuns, Taken
from ..mesh.types import Figures
from ..quantities.numbers import Standing

if TYPE_CHECKING:
    from ..places.reading_weights import WeighedPlace, WeighedSize


class Feature(Struct, frozen=True):
    """A named thing of the part: what kind it is, the plane it was read in, its place, and the size across if
    any.

    The place (x, y, z) is in mm in the finished part; `standing` is the weakest of the readings it rests on;
    `place` says how well it is known on its plane (None: it was not asked, or nothing was read). `sizes`:
    further sizes by which the print can be checked (the pitch of a thread, the span over teeth of a gear).
    `axis`: the way a hole runs, a unit vector in the finished part."""

    name: str
    kind: str
    plane: str
    x: float
    y: float
    z: float
    across: float | None
    standing: Standing
    place: WeighedPlace | None = None
    sizes: tuple[tuple[str, float], ...] = ()
    axis: tuple[float, float, float] | None = None


class PartReport(Struct, frozen=True):
    """All that is reported of one finished part; `mass_g` is that of one piece printed solid, `copies` how
    many.

    `other_hand`: the part is the mirror image of what was read.  `angles`: thing, what it is, degrees.
    `loads`: as written, and whether each pulls the layers apart; `prints_on`: the flat, empty where untold.
    `measured`: every number of the recipe as taken again from the mesh; `ways`: which way things run.
    """

    title: str
    source_name: str
    figures: Figures
    plastic: str | None = None
    density: float | None = None
    mass_g: float | None = None
    features: tuple[Feature, ...] = ()
    copies: int = 1
    notes: tuple[str, ...] = ()
    sizes: tuple[WeighedSize, ...] = ()
    other_hand: bool = False
    angles: tuple[tuple[str, str, float], ...] = ()
    loads: tuple[tuple[str, bool], ...] = ()
    prints_on: str = ""
    measured: tuple[Taken, ...] = ()
    ways: tuple[HowItRuns, ...] = ()
