"""The form of a thread: of an ISO metric one by name, of one that was read from a neck, a bolt or a lid, and
of its mate.

A thread is seen as ridges that wind round a core.  Diameters are named as on a bolt: `across` over the crests
of an outside thread, `core` between its ridges.  In a nut or lid the same two diameters are the ground of the
grooves (`across`) and the crests of its ridges (`core`).  Widths are measured along the axis."""

from __future__ import annotations

import math

from msgspec import Struct

from ...diagnostics.types import Trouble
from ...quantities.tables import metric_thread

LEAST_RIDGE = 0.05
LEAST_PITCH = 0.1
MOST_LOST = 0.6
NO_THREAD = ("thread-misses", "bad-thread", "thread-too-short", "which-pitch")
"""Codes of what stands in the way of a thread: its line is at fault."""


class ThreadForm(Struct, frozen=True):
    """A thread in mm: `crest` and `foot` are the widths of its ridge at its tip and where it stands; `pitch`
    is from crest to crest, whichever start they belong to.  `rounded`: the root is rounded as on an ISO
    bolt."""

    across: float
    core: float
    pitch: float
    crest: float
    foot: float
    outside: bool
    starts: int = 1
    left: bool = False
    rounded: bool = False

    @property
    def lead(self) -> float:
        """How far one turn goes along the axis."""
        return self.pitch * self.starts

    @property
    def slope(self) -> float:
        """Angle of the flanks from square to the axis, radians: 30 degrees for an ISO metric thread."""
        return math.atan2(0.5 * (self.foot - self.crest), 0.5 * (self.across - self.core))

    @property
    def root_radius(self) -> float:
        """Radius of the rounding that touches both flanks where they end: half the gap / cos(slope); ISO: H /
        6.
        """
        return 0.5 * (self.pitch - self.foot) / math.cos(self.slope) if self.rounded else 0.0

    @property
    def ground(self) -> float:
        """Diameter of what the ridges stand on: the core (less the depth of a rounded root), or the bore they
        are in.
        """
        if not self.outside:
            return self.across
        return self.core - 2.0 * self.root_radius * (1.0 - math.sin(self.slope))


class ThreadName(Struct, frozen=True):
    """How a thread that is named after a screw is called: `M8`, its pitch (mm) as told or where it is not the
    coarse one ('' else), the play (mm across) where that is told."""

    screw: str
    pitch: str
    clear: float | None


def metric_form(name: str, fine: bool, outside: bool) -> ThreadForm:
    """The basic profile of ISO 68-1; raises Trouble as `metric_thread` does."""
    one = metric_thread(name, fine)
    p = one.pitch
    crest, foot = (p / 8.0, 0.75 * p) if outside else (0.25 * p, 0.875 * p)
    return ThreadForm(one.across, one.core, p, crest, foot, outside, rounded=outside)


def mate(form: ThreadForm, clear: float) -> ThreadForm:
    """The thread that goes with another: its ridges fill the gaps of the other, `clear` / 2 away from it all
    round.

    All faces move by g = clear / 2 square to themselves: diameters by 2 g, the ridge's gap along the axis by
    2 g (1 - sin s) / cos s at either radius moved along, s the slope of the flanks.  Where the flanks then
    meet before the crest, the ridge ends as high as it is still wide enough.  Raises Trouble('bad-thread')
    where none is left."""
    way = 1.0 if form.outside else -1.0
    widen = clear * (1.0 - math.sin(form.slope)) / math.cos(form.slope)
    crest, foot = form.pitch - form.foot - widen, form.pitch - form.crest - widen
    across, core = form.across + way * clear, form.core + way * clear
    least = min(LEAST_RIDGE, 0.125 * form.pitch)
    if crest < least:
        lost = (least - crest) / max(math.tan(form.slope), 1e-9)
        if foot <= least or lost > MOST_LOST * (across - core):
            raise Trouble(
                "bad-thread",
                f"{clear:g} clear leaves next to nothing of the ridge that goes between those of this "
                f"thread ({form.pitch:.4g} from crest to crest, {form.foot:.4g} wide at the foot)",
                advice=("less clear, or check the readings of crest, foot and pitch",),
            )
        crest, across, core = (
            least,
            across - (lost if not form.outside else 0.0),
            core + (lost if form.outside else 0.0),
        )
    return ThreadForm(
        across,
        core,
        form.pitch,
        crest,
        foot,
        not form.outside,
        form.starts,
        form.left,
        not form.outside and form.rounded,
    )


def check_form(form: ThreadForm, shown: str, name: str) -> None:
    """Raise Trouble('bad-thread') for a form that no tool could have cut."""
    said = ""
    if form.pitch < LEAST_PITCH:
        said = f"a pitch of {form.pitch:g} is too fine to be a thread"
    elif not 0.0 < form.core < form.across:
        said = f"its core ({form.core:.4g}) is not smaller than its size across ({form.across:.4g})"
    elif form.crest > form.foot:
        said = f"its ridge is wider at the crest ({form.crest:g}) than at the foot ({form.foot:g})"
    elif form.foot > form.pitch - LEAST_RIDGE:
        said = (
            f"its ridges are {form.foot:g} wide at the foot and "
            f"only {form.pitch:.4g} apart: they run into one another"
        )
    if said:
        raise Trouble(
            "bad-thread",
            f"the thread of {shown} can't be: {said}",
            (name,),
            advice=("check the readings: pitch is from crest to crest, widths are along the axis",),
        )
