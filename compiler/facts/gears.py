"""The gear behind the readings: module, shift and helix from what was read over tips, over teeth, and between
centres.

Each reading says what the module is, with a give-or-take.  A module of the ISO 54 series is taken where it is
met by all readings within theirs, series I first; else the module stays as read.  With the module known, a
centre distance (or else a reading over teeth or tips) that no unshifted gear meets tells the profile shift.
"""

from __future__ import annotations

import math

from msgspec import Struct

from ..diagnostics.types import Trouble
from ..quantities.gears import FINE, MODULES, SECOND, Gear, centre_distance, shift_sum
from .gear_readings import (
    Centres,
    centres_read,
    check_can_mesh,
    estimates_of,
    mate_entry,
    plain_of,
    rack_of_gear,
)
from .modules import (
    MOST_SHIFT,
    Estimate,
    module_of_pitch,
    nearest_module,
    of_the_series,
    shift_told,
    taken,
    with_a_shift,
)
from .types import Claim, Claims, Entry

BACKLASH = 0.1
"""Play (mm along the pitch circle) a gear gives up where none is said: common practice for printed gears, no
source.
"""
TIGHT, LOOSE = 0.02, 0.4
"""How much closer (mm), and further (modules), than they mesh a pair may stand without a word."""


class FoundGear(Struct, frozen=True):
    """A gear, and what was concluded on the way: `module` and `shift` are '', 'as read' or 'found', with the
    claim behind.
    """

    gear: Gear
    module: str = ""
    shift: str = ""
    claim: Claim | None = None
    nearest: float = 0.0


class _Given(Struct, frozen=True):
    """What is known of a gear's size: estimates of its module, the shift that is said, the centres that were
    read, and (teeth, lean, inside)."""

    estimates: list[Estimate]
    told: float | None
    between: Centres | None
    shape: tuple[int, float, bool]


def gear_of(entry: Entry, claims: Claims) -> FoundGear:
    """The gear of a statement; raises Trouble: 'fact-missing', 'module-disagrees', 'centres-contradict',
    'bad-gear'.
    """
    try:
        return _alone(entry, claims)
    except Trouble as trouble:
        pair = (
            _shifted_pair(entry, claims)
            if trouble.code in ("module-disagrees", "centres-contradict")
            else None
        )
        if pair is None:
            raise
        return pair


def _alone(entry: Entry, claims: Claims) -> FoundGear:
    """The gear where its mate is taken to be unshifted, unless the mate says otherwise."""
    teeth, helix, left, inside = plain_of(entry)
    mate, rack = mate_entry(entry, claims), rack_of_gear(entry, claims)
    if mate is not None:
        check_can_mesh(entry, mate)
    stated = entry.one("shift")
    told = stated.number("number") if stated is not None else None
    estimates = estimates_of(entry, teeth, helix, inside, told or 0.0)
    between = centres_read(entry, mate)
    shape = (teeth, helix, inside)
    if rack is not None and not entry.has("module"):
        found = _along_rack(rack, shape)
    else:
        found = _module(entry, mate, claims, _Given(estimates, told, between, shape))
    module, own = found.gear.module, rack is not None or found.module != "as read"
    if entry.has("module"):
        _as_its_mate(entry, mate, rack, found.gear)
    play = entry.one("backlash")
    thinner = play.number("number") if play is not None else BACKLASH
    shift, how, claim = told if told is not None else 0.0, "", None
    if told is None and mate is not None and between is not None:
        shift, how, claim = _shift_between(entry, mate, found.gear, between)
    elif told is None and estimates and own:
        shift, how, claim = _shift_read(entry, found.gear, estimates)
    gear = Gear(teeth, module, shift, inside, helix, left, thinner)
    for one in estimates:
        if one.misses(module, shift) > 1.0 and own:
            raise _disagrees(entry, [one], module, shift)
    if mate is not None and between is not None:
        _check_centres(entry, mate, gear, between)
    return FoundGear(gear, found.module, how, claim or found.claim, found.nearest)


def _shifted_pair(entry: Entry, claims: Claims) -> FoundGear | None:
    """The gear at a module of ISO 54 at which the tips of both, each shifted, and their centres belong
    together, if any.
    """
    mate = mate_entry(entry, claims)
    between = centres_read(entry, mate)
    if mate is None or between is None or any(one.has("module", "shift", "inside") for one in (entry, mate)):
        return None
    teeth, helix, left, _ = plain_of(entry)
    some = [estimates_of(one, plain_of(one)[0], plain_of(one)[1], False, 0.0) for one in (entry, mate)]
    give = between[1] + TIGHT + 0.5 * sum(max((one.give for one in each), default=0.0) for each in some)
    play = entry.one("backlash")
    for module in (*MODULES, *FINE, *SECOND):
        mine, theirs = (shift_told(each, module) for each in some)
        if not all(some) or mine is None or theirs is None:
            continue
        gear = Gear(
            teeth, module, mine, False, helix, left, play.number("number") if play is not None else BACKLASH
        )
        other = Gear(plain_of(mate)[0], module, theirs, False, helix)
        if abs(centre_distance(gear, other) - between[0]) <= give:
            return FoundGear(gear, "", "found" if mine else "", some[0][-1].claim)
    return None


def _along_rack(rack: Entry, shape: tuple[int, float, bool]) -> FoundGear:
    """The gear at the module of the rack it meshes with: as said, or read over some of its pitches, each pi m
    / cos b.
    """
    teeth, helix, inside = shape
    stated, pitch = rack.one("module"), rack.one("pitch")
    if stated is not None:
        return FoundGear(Gear(teeth, stated.number("size"), 0.0, inside, helix))
    assert pitch is not None
    size, _ = taken(pitch.measure("size"))
    over = pitch.number("over") if pitch.get("over") is not None else 1.0
    module, how, nearest = module_of_pitch(size, over / math.cos(helix))
    return FoundGear(Gear(teeth, module, 0.0, inside, helix), how, "", pitch, nearest)


def _as_its_mate(entry: Entry, mate: Entry | None, rack: Entry | None, gear: Gear) -> None:
    """Raise Trouble('module-disagrees') where the mate tells another module than the gear's own line."""
    other, told = mate or rack, None
    if other is not None and (stated := other.one("module")) is not None:
        told = stated.number("size")
    elif rack is not None:
        told = _along_rack(rack, (gear.teeth, gear.helix, gear.inside)).gear.module
    if other is None or told is None or abs(told - gear.module) <= 1e-6 * gear.module:
        return
    raise Trouble(
        "module-disagrees",
        f"`{entry.name}` is of module {gear.module:.4g}, `{other.name}`, its mate, of "
        f"{told:.4g}: their teeth don't fit",
        (entry.name,),
        advice=("leave `module` out: the mate tells it", "check which of the two was read"),
    )


def _module(entry: Entry, mate: Entry | None, claims: Claims, given: _Given) -> FoundGear:
    """The gear at its module, unshifted, and how its module was come by."""
    teeth, helix, inside = given.shape
    estimates, told, between = given.estimates, given.told, given.between
    stated = entry.one("module")
    if stated is not None:
        return FoundGear(Gear(teeth, stated.number("size"), 0.0, inside, helix))
    from_mate = _told_by_mate(mate, claims)
    if from_mate is not None:
        return FoundGear(Gear(teeth, from_mate, 0.0, inside, helix))
    shift = told if told is not None else 0.0
    some = list(estimates)
    if not some and mate is not None and between is not None:
        other, lean, _, other_inside = plain_of(mate)
        pair = abs(teeth - other) if inside or other_inside else teeth + other
        some = [Estimate(between[0], between[1], 0.5 * pair / math.cos(lean), 0.0, between[2])]
    if not some:
        raise Trouble(
            "fact-missing",
            f"`{entry.name}` does not say how large its teeth are",
            (entry.name,),
            advice=("module 1   or   across 21.0   or   span 7.66 over 3   or   meshes wheel",),
        )
    values = [(one.module(shift), one.slack(shift)) for one in some]
    snapped = of_the_series(values)
    if snapped is None and told is None and len(estimates) == 2:
        snapped = with_a_shift(estimates)
    if snapped is not None:
        return FoundGear(Gear(teeth, snapped, 0.0, inside, helix))
    if any(abs(a - b) > c + d for a, c in values for b, d in values):
        raise _disagrees(entry, some, 0.0, shift)
    weight = sum(1.0 / max(slack, 1e-9) ** 2 for _, slack in values)
    mean = sum(value / max(slack, 1e-9) ** 2 for value, slack in values) / weight
    return FoundGear(
        Gear(teeth, mean, 0.0, inside, helix), "as read", "", some[0].claim, nearest_module(mean)
    )


def _told_by_mate(mate: Entry | None, claims: Claims) -> float | None:
    """The module of a gear's mate, where the mate says it by itself."""
    found = found_by_itself(mate, claims)
    return found.gear.module if found is not None else None


def found_by_itself(mate: Entry | None, claims: Claims) -> FoundGear | None:
    """What a gear's mate says of its module, where it says it by itself."""
    if mate is None or not mate.has("module", "across", "span"):
        return None
    teeth, helix, _, inside = plain_of(mate)
    told = mate.one("shift")
    shift = told.number("number") if told is not None else None
    estimates = estimates_of(mate, teeth, helix, inside, shift or 0.0)
    given = _Given(estimates, shift, None, (teeth, helix, inside))
    return _module(mate, None, claims, given)


def _shift_between(
    entry: Entry, mate: Entry, gear: Gear, between: Centres
) -> tuple[float, str, Claim | None]:
    """The shift at which the gear meshes with its mate where their centres were read."""
    distance, give, claim = between
    other = _as_mate(mate, gear)
    inner = gear.inside or other.inside
    pair = abs(gear.teeth - other.teeth) if inner else gear.teeth + other.teeth
    reference = 0.5 * pair * gear.transverse
    if pair == 0 or abs(distance - centre_distance(gear, other)) <= give + TIGHT:
        return 0.0, "", None
    try:
        total = shift_sum(pair, gear.module, distance, gear.helix)
    except ValueError:
        total = math.inf
    shift = (
        total - other.shift if not inner else (total + other.shift) if gear.inside else other.shift - total
    )
    if not abs(shift) <= MOST_SHIFT:
        raise Trouble(
            "centres-contradict",
            f"`{entry.name}` and `{mate.name}` were read {distance:g} apart, but {gear.teeth} "
            f"and {other.teeth} teeth of module {gear.module:.4g} stand {reference:.4g} apart",
            (entry.name,),
            advice=("check the counts of teeth, the module and the reading between centres",),
        )
    return shift, "found", claim


def _shift_read(entry: Entry, gear: Gear, estimates: list[Estimate]) -> tuple[float, str, Claim | None]:
    """The shift that a reading over teeth (better) or over the tips tells, 0 where all readings are met
    without.
    """
    if all(one.misses(gear.module, 0.0) <= 1.0 for one in estimates):
        return 0.0, "", None
    best = estimates[-1]
    shift = best.shift(gear.module)
    if abs(shift) > MOST_SHIFT:
        raise _disagrees(entry, [best], gear.module, 0.0)
    return shift, "found", best.claim


def _as_mate(mate: Entry, gear: Gear) -> Gear:
    """The mate as this gear sees it: its own count and shift, this gear's module and helix."""
    teeth, _, _, inside = plain_of(mate)
    told = mate.one("shift")
    play = mate.one("backlash")
    thinner = play.number("number") if play is not None else BACKLASH if mate.kind == "gear" else 0.0
    shift = told.number("number") if told is not None else 0.0
    if told is None and mate.kind == "neighbour" and not inside:
        shift = shift_told(estimates_of(mate, teeth, gear.helix, inside, 0.0), gear.module) or 0.0
    return Gear(teeth, gear.module, shift, inside, gear.helix, not gear.left, thinner)


def mate_of(entry: Entry, claims: Claims, gear: Gear) -> tuple[Entry, Gear, float] | None:
    """A gear's mate, the gear it is, and the distance of their centres: as read, else where they mesh."""
    mate = mate_entry(entry, claims)
    if mate is None:
        return None
    other = _as_mate(mate, gear)
    between = centres_read(entry, mate)
    return mate, other, between[0] if between is not None else centre_distance(gear, other)


def _check_centres(entry: Entry, mate: Entry, gear: Gear, between: Centres) -> None:
    distance, give, _ = between
    other = _as_mate(mate, gear)
    mesh = centre_distance(gear, other)
    apart = (distance - mesh) * (-1.0 if gear.inside or other.inside else 1.0)
    if not -give - TIGHT <= apart <= give + LOOSE * gear.module:
        word = "too close" if apart < 0 else "too far apart"
        raise Trouble(
            "centres-contradict",
            f"`{entry.name}` and `{mate.name}` were read {distance:g} apart, {word} for their "
            f"teeth: they mesh at {mesh:.4g}",
            (entry.name,),
            advice=("check the shift, or leave it out: it then follows from the centres",),
        )


def _disagrees(entry: Entry, some: list[Estimate], module: float, shift: float) -> Trouble:
    said = ", ".join(
        f"`{one.claim.text}` asks for {one.module(shift):.4g} +- {one.slack(shift):.2g}" for one in some
    )
    than = f", not {module:.4g}" if module else ""
    at = f" at a shift of {shift:.3g}" if shift else ""
    lines = [claim.span for claim in entry.claims if any(each.claim is claim for each in some)]
    return Trouble(
        "module-disagrees",
        f"the readings of `{entry.name}` do not belong to one module{at}: {said}{than}",
        (entry.name,),
        advice=("count the teeth again, and read over the tips where the jaws open widest",),
        span=lines[0] if lines else None,
    )
