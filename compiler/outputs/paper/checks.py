"""What to measure on the printed part: every size and every reading, what to expect, and what a found value
means.

Expected readings are worked out for the part as made: `far-far 33.75` of two holes that were made wider is a
larger number on the new part.  A printer leaves holes narrow: by 0.1 to 0.5 mm across in practitioners'
accounts, which are not measured series (order of magnitude only); pegs come out a little wide.  So holes have
a band as printed and one after a drill was run through."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping

from msgspec import Struct

from ...facts import Entry
from ...facts.extents import THICKNESS, box_claims
from ...facts.needs import FIT_WORDS, THREAD_WORDS
from ...facts.pockets import MOUTHS, pocket_name
from ...facts.turned import station_sizes
from ...quantities import Standing
from .amounts import Amount, amount, flat_amount, hole_amount, shown, wanted
from .relations import Gap, gaps
from .screwed import sizings
from .views import Scene

NARROW = 0.5  # mm that a hole may be printed too narrow
PROUD = 0.3  # mm that a peg may be printed too wide
DRILL_STEP = 0.1  # mm between drills of a set
_STATION_JAWS = {
    "across": "outer jaws",
    "groove": "outer jaws",
    "bored": "inner jaws",
    "hex": "outer jaws over the flats",
    "square": "outer jaws over the flats",
    "flat": "outer jaws from the flat to the round",
}
_OF_SCREW = re.compile(r"(clears|bites|hex|counterbore|countersink) [Mm]\d")


class Check(Struct, frozen=True):
    """One thing to measure: its key for the found values, how to take it, what is expected (mm), and what can
    be done.

    `kind`: hole (a drill fits), pocket (it does not), peg, size, depth or gap.  `low`..`high` is what will
    do; as printed `printed_low`..`printed_high`.  `drills` are run through one after the other.  `leans`
    holds the keys of the holes whose size goes into a reading between edges, each with its share of their
    diameter; `line` is the line of the recipe that decides the size."""

    key: str
    kind: str
    how: str
    value: float
    low: float
    high: float
    printed_low: float
    printed_high: float
    drills: tuple[float, ...] = ()
    leans: tuple[tuple[str, float], ...] = ()
    critical: bool = False
    line: str = ""


class Verdict(Struct, frozen=True):
    """What a found value means: pass, rework or reprint, and what to do."""

    key: str
    found: float
    word: str
    advice: str


def checks(scene: Scene) -> list[Check]:
    """Everything to measure, holes and pegs first, then the distances, then the sizes of bodies; none
    twice.
    """
    entries = scene.claims.entries.values()
    found = [one for entry in entries for one in _of_rounds(entry, scene)]
    found += [one for gap in gaps(scene) for one in _of_gap(gap, scene)]
    found += [one for entry in entries for one in _of_bodies(entry)]
    kept: dict[str, Check] = {}
    for one in found:
        kept.setdefault(one.key, one)
    return list(kept.values())


# -- holes and pegs --------------------------------------------------------------------------------


def _of_rounds(entry: Entry, scene: Scene) -> Iterator[Check]:
    if entry.name not in scene.layout.spots:
        return
    for one in sizings(entry, scene.claims):
        yield _sized(one.key, one.kind, one.how, wanted(one.value), one.line)
    if entry.kind not in ("bore", "slot", "peg"):
        return
    size = hole_amount(entry) if not entry.has(*THREAD_WORDS) else None
    if size is not None:
        size = size if size.standing is not Standing.ABOUT else wanted(size.value)
        key = f"{entry.name} {'wide' if entry.kind == 'slot' else 'across'}"
        count = len(scene.places(entry))
        each = f", each of the {count}" if count > 1 else ""
        critical = entry.has(
            "turns on", "slides on", "pushes on", "press on", "stretches on", "clears", "bites"
        )
        if entry.kind == "peg":
            yield Check(
                key,
                "peg",
                "outer jaws, twice, a quarter turn apart" + each,
                size.value,
                size.low,
                size.high,
                size.low,
                size.high + PROUD,
                critical=critical,
                line=_line(entry),
            )
        elif entry.has("flat", "flats", "hex", "square"):
            how = (
                "inner jaws, across the round"
                if entry.has("flat", "flats")
                else "inner jaws, across the flats"
            )
            yield Check(
                key,
                "pocket",
                how + each,
                size.value,
                size.low,
                size.high,
                size.low - NARROW,
                size.high,
                critical=critical,
                line=_line(entry),
            )
        else:
            yield _drilled(key, size, critical, _line(entry), each)
    yield from _of_mouth(entry)
    for word, kind, how in (
        ("flat", "pocket", "inner jaws, from the flat to the round"),
        ("deep", "depth", "depth rod"),
        ("flats", "pocket", "inner jaws, over both flats"),
        ("long", "pocket", "inner jaws, over the ends"),
    ):
        claim = entry.one(word)
        if claim is not None:
            size = flat_amount(entry, claim) if word in ("flat", "flats") else amount(claim.measure("size"))
            yield _sized(f"{entry.name} {word}", kind, how, size, claim.text)


def _of_mouth(entry: Entry) -> Iterator[Check]:
    """The counterbore or countersink of a hole, by the name of its screw where it has one."""
    claim = entry.one(*MOUTHS)
    if claim is None:
        return
    named = f"{name}: " if (name := pocket_name(claim)) else ""
    over = "across the flats" if claim.word_of("which") == "nut" else "across the mouth"
    size = wanted(claim.number("number"))
    yield _sized(f"{entry.name} {claim.word}", "pocket", f"{named}inner jaws, {over}", size, claim.text)
    if claim.word == "counterbore":
        deep = wanted(claim.number("depth"))
        yield _sized(f"{entry.name} {claim.word} deep", "depth", f"{named}depth rod", deep, claim.text)


def _line(entry: Entry) -> str:
    """The line that decides how wide a hole or peg is made: what it is for, else its size."""
    claim = entry.one(*FIT_WORDS[:-1]) or entry.one("across", "drill", "wide", "hex", "square", "same as")
    return claim.text if claim is not None else ""


def _drilled(key: str, size: Amount, critical: bool, decided: str, each: str) -> Check:
    last = drill_for(size)
    steps = tuple(round(last - back * DRILL_STEP, 1) for back in (4, 2, 0) if last - back * DRILL_STEP > 0.7)
    goes, stops = (
        shown(math.ceil(size.low / DRILL_STEP - 1e-6) * DRILL_STEP),
        shown(math.floor(size.high * 10 + 1e-6) / 10 + 0.1),
    )
    how = f"drill shanks: {goes} goes, {stops} does not{each}"
    return Check(
        key,
        "hole",
        how,
        size.value,
        size.low,
        size.high,
        size.low - NARROW,
        size.high,
        steps,
        (),
        critical,
        decided,
    )


def drill_for(size: Amount) -> float:
    """The drill of a set by tenths that leaves a hole of this size: the nearest that does not make it too
    wide.
    """
    nearest = round(size.value / DRILL_STEP) * DRILL_STEP
    if nearest > size.high + 1e-6:
        nearest = math.floor(size.high / DRILL_STEP + 1e-6) * DRILL_STEP
    return round(nearest, 1)


# -- distances -------------------------------------------------------------------------------------


def _of_gap(gap: Gap, scene: Scene) -> Iterator[Check]:
    for claim in gap.claims:
        edges = claim.word_of("edges")
        mine, theirs = _edges(edges, gap)
        reading = gap.amount.value + mine * gap.reach + theirs * gap.their_reach
        if reading <= 0:
            continue
        key = " ".join(word for word in (gap.name, "from", gap.other, edges) if word)
        size = wanted(reading)
        leans = tuple(
            (f"{name} {_across_word(scene, name)}", 0.5 * share)
            for name, share, reach in ((gap.name, mine, gap.reach), (gap.other, theirs, gap.their_reach))
            if share and reach and name in scene.claims.entries
        )
        critical = any(_fits(scene, name) for name in (gap.name, gap.other))
        yield Check(
            key,
            "gap",
            _how(edges, gap),
            reading,
            size.low,
            size.high,
            size.low,
            size.high,
            (),
            leans,
            critical,
        )


def _edges(words: str, gap: Gap) -> tuple[int, int]:
    """The share (-1, 0, 1) of each party's reach in a reading between its edges."""
    share = {"near": -1, "far": 1}
    if "-" in words:
        first, second = words.split("-")
        return share[first], share[second]
    if gap.straight or gap.their_reach == 0.0:
        return share.get(words, 0), 0
    return (share.get(words, 0), 0) if gap.reach else (0, share.get(words, 0))


def _across_word(scene: Scene, name: str) -> str:
    return "wide" if scene.claims.entries[name].kind == "slot" else "across"


def _fits(scene: Scene, name: str) -> bool:
    entry = scene.claims.entries.get(name)
    return entry is not None and entry.has(
        "turns on", "slides on", "pushes on", "press on", "clears", "bites"
    )


def _how(words: str, gap: Gap) -> str:
    a, b = gap.name, gap.other
    if words == "far-far":
        return f"inner jaws spread: far edge of {a} to far edge of {b}"
    if words == "near-near":
        return f"outer jaws over what stands between {a} and {b}"
    if "-" in words:
        first, second = words.split("-")
        return f"{first} edge of {a} to {second} edge of {b}"
    if words in ("near", "far"):
        return (
            f"from {b} to the {words} edge of {a}"
            if gap.reach or gap.straight
            else f"from {a} to the {words} edge of {b}"
        )
    if gap.reach == 0.0 and gap.straight:
        return f"square from {b} to {a}"
    if gap.reach == 0.0 and gap.their_reach == 0.0:
        return f"from {a} to {b}"
    return f"between the middles of {a} and {b}: measure between edges and add or take off the halves"


# -- bodies ----------------------------------------------------------------------------------------


def _of_bodies(entry: Entry) -> Iterator[Check]:
    outer = "outer jaws"
    if entry.kind == "block":
        for claim in (*box_claims(entry), *entry.all("reaches")):
            yield _sized(
                f"{entry.name} {claim.word}", "size", outer, amount(claim.measure("size")), claim.text
            )
    elif entry.kind in THICKNESS:
        for word in ("thick", "wide", "high"):
            size_claim = entry.one(word)
            if size_claim is not None:
                size = amount(size_claim.measure("size"))
                yield _sized(f"{entry.name} {word}", "size", outer, size, size_claim.text)
    elif entry.kind == "turning":
        for one in station_sizes(entry):
            if (how := _STATION_JAWS.get(one.claim.word)) is not None:
                kind = "pocket" if one.claim.word == "bored" else "size"
                where = one.name.removeprefix(one.claim.word).strip()
                line = one.claim.text.partition(" from ")[0]
                yield _sized(f"{entry.name} {one.name}", kind, f"{how}, {where}", amount(one.measure), line)
    elif entry.kind in ("thicken", "relieve") and (to := entry.one("to")) is not None:
        yield _sized(
            f"{entry.name} overall", "size", "outer jaws over the place", wanted(to.number("number")), to.text
        )


def _sized(key: str, kind: str, how: str, size: Amount, decided: str = "") -> Check:
    """A plain size: what was read is expected of the printed part within the general tolerance, not its
    give-or-take.
    """
    general = wanted(size.value)
    under, over = max(general.under, size.under), max(general.over, size.over)
    low, high = size.value - under, size.value + over
    return Check(
        key, kind, how, size.value, low, high, low - (NARROW if kind == "pocket" else 0.0), high, line=decided
    )


# -- verdicts --------------------------------------------------------------------------------------


def verdict(check: Check, found: float, others: Mapping[str, float], sizes: Mapping[str, Check]) -> Verdict:
    """What a found value means.  `others` are all found values: a reading between edges is freed of holes
    that came out wider or narrower."""
    value = found
    for key, share in check.leans:
        if key in others and key in sizes:
            value -= share * (others[key] - sizes[key].value)
    if check.low - 1e-9 <= value <= check.high + 1e-9:
        freed = f" (as if the holes were right: {shown(value)})" if abs(value - found) > 0.005 else ""
        return Verdict(check.key, found, "pass", "within what will do" + freed)
    return Verdict(check.key, found, *_cure(check, value))


def _cure(check: Check, found: float) -> tuple[str, str]:
    off = found - check.value
    small = found < check.low
    size = shown(abs(off))
    if check.kind == "hole" and small:
        return "rework", f"run a {shown(check.drills[-1])} drill through, the part in a vice"
    if check.kind == "pocket" and small:
        return "rework", f"file {shown(abs(off) / 2)} off either side"
    if check.kind in ("peg", "size") and not small:
        return (
            "rework",
            f"file {size} off ({shown(abs(off) / 2)} all round)"
            if check.kind == "peg"
            else f"file {size} off",
        )
    if check.kind == "depth" and small:
        return "rework", f"drill {size} deeper"
    if check.kind == "gap":
        share = 100.0 * check.value / found if found > 0 else 100.0
        way = "short" if small else "long"
        return (
            "reprint",
            f"{size} too {way}: where all distances are, print at {share:.2f} %; else read this one again",
        )
    way = "wide" if check.kind in ("hole", "pocket") else "deep" if check.kind == "depth" else "small"
    if not check.line:  # no line says it: it follows from the teeth as they came out
        return "reprint", f"{size} too {way}"
    if check.line.startswith((*FIT_WORDS[:-1], *MOUTHS)) or _OF_SCREW.match(check.line):
        screw = _OF_SCREW.match(check.line)
        what = "depth" if check.kind == "depth" else "size"
        cure = (
            f"instead of `{check.line}` give its {what}, {shown(check.value - off)}"
            if screw
            else (f"in `{check.line}`, write the {what} {size} {'larger' if off < 0 else 'smaller'}")
        )
    else:
        typed = check.line.partition(" made ")[0].removesuffix(" wanted")
        cure = f"write `made {shown(max(0.0, check.value - off))}` behind `{typed}`"
    return "reprint", f"{size} too {way}: {cure}"
