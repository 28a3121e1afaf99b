"""The form of a thread: of an ISO metric one by name, of one that was read from a neck, a bolt or a lid, and
of its mate.

A thread is seen as ridges that wind round a core.  Diameters are named as on a bolt: `across` over the crests
of an outside thread, `core` between its ridges.  In a nut or lid the same two diameters are the ground of the
grooves (`across`) and the crests of its ridges (`core`).  Widths are measured along the axis."""

from __future__ import annotations

import math

from msgspec import Struct

from ..diagnostics.types import Trouble
from .needs import USUAL_CLEAR
from .types import Claim, Claims, Entry, Ref

LEAST_RIDGE = 0.05
LEAST_PITCH = 0.1
MOST_LOST = 0.6


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


def metric_form(name: str, fine: bool, outside: bool) -> ThreadForm:
    """The basic profile of ISO 68-1; raises Trouble as `metric_thread` does."""
    from ..quantities.tables import metric_thread

    one = metric_thread(name, fine)
    p = one.pitch
    crest, foot = (p / 8.0, 0.75 * p) if outside else (0.25 * p, 0.875 * p)
    return ThreadForm(one.across, one.core, p, crest, foot, outside, rounded=outside)


def read_form(entry: Entry, outside: bool) -> ThreadForm:
    """The thread that a neighbour carries, as read; raises Trouble('fact-missing') and 'bad-thread'."""
    pitch_claim = entry.one("pitch")
    if pitch_claim is None:
        raise _missing(entry, "its `pitch`", "pitch 12.1 over 4")
    over = pitch_claim.get("over")
    pitch = pitch_claim.number("size") / (pitch_claim.number("over") if over is not None else 1.0)
    sizes = {
        word: claim.number("size")
        for word in ("across", "core", "deep")
        if (claim := entry.one(word)) is not None
    }
    if len(sizes) < 2:
        raise _missing(
            entry, "two of `across`, `core` and `deep`", "core 24.0" if "core" not in sizes else "deep 1.1"
        )
    across = sizes.get("across", sizes.get("core", 0.0) + 2.0 * sizes.get("deep", 0.0))
    core = sizes.get("core", across - 2.0 * sizes.get("deep", 0.0))
    widths = [entry.one(word) for word in ("crest", "foot")]
    if widths[0] is None or widths[1] is None:
        raise _missing(entry, "how wide its ridge is at `crest` and `foot`", "crest 1.2   and   foot 2.0")
    starts = entry.one("starts")
    form = ThreadForm(
        across,
        core,
        pitch,
        widths[0].number("size"),
        widths[1].number("size"),
        outside,
        int(starts.number("count")) if starts is not None else 1,
        entry.has("left-handed"),
    )
    _sound(form, f"`{entry.name}`", entry.name)
    return form


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


def form_of(claim: Claim, claims: Claims, inside: bool) -> ThreadForm:
    """The form that a `thread`, `screws on` or `screws into` line asks for; `inside`: a plain `thread` is cut
    in a bore.

    `screws on` goes onto an outside thread and so is an inside one; `screws into` the other way about.
    Raises Trouble."""
    outside = claim.word == "screws into" or (claim.word == "thread" and not inside)
    told = claim.get("mate")
    if claim.word == "thread":
        return _named(told, claim, claims, outside)
    other = _named(told, claim, claims, not outside)
    if isinstance(told, str):
        # The basic profile has a flat root on both sides, and only the bolt's is rounded.
        other = ThreadForm(
            other.across, other.core, other.pitch, other.crest, other.foot, not outside, rounded=outside
        )
    return mate(other, claim.number("clear") if claim.get("clear") is not None else USUAL_CLEAR)


def _named(told: object, claim: Claim, claims: Claims, outside: bool) -> ThreadForm:
    if isinstance(told, Ref):
        return read_form(claims.entries[told.name], outside)
    assert isinstance(told, str)
    return metric_form(told, claim.get("series") is not None, outside)


def _missing(entry: Entry, what: str, write: str) -> Trouble:
    return Trouble(
        "fact-missing",
        f"neighbour `{entry.name}` carries a thread but does not say {what}",
        (entry.name,),
        advice=(f"add a line such as: {write}",),
    )


def _sound(form: ThreadForm, shown: str, name: str) -> None:
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
