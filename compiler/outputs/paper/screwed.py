"""What threads, gears and racks are called on a drawing, and how they are measured on the printed part."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from ...facts import Claim, Claims, Entry
from ...facts.gears import gear_of
from ...facts.needs import THREAD_WORDS
from ...kinds.thread.form import ThreadForm
from ...kinds.thread.model import form_of
from ...outlines.racks import BlockRack, block_racks

PLAY = 0.1  # mm across that a thread may be off and still goes on (common practice, no source)


class Sizing(Struct, frozen=True):
    """A size to measure: its key, the kind of check, how to take it, the size (mm) and the line that decides
    it.
    """

    key: str
    kind: str
    how: str
    value: float
    line: str


class Winding(Struct, frozen=True):
    """A thread of a turning: its form, the places (mm) it runs between, its line."""

    form: ThreadForm
    start: float
    stop: float
    claim: Claim


def windings(entry: Entry, claims: Claims) -> tuple[Winding, ...]:
    """The threads of a turning."""
    found = []
    for claim in sorted(entry.all(*THREAD_WORDS), key=lambda one: one.text):
        inside = claim.word == "screws on" or claim.word_of("which") == "inside"
        start, stop = sorted((claim.number("start"), claim.number("stop")))
        found.append(Winding(form_of(claim, claims, inside), start, stop, claim))
    return tuple(found)


def threaded(entry: Entry, claims: Claims) -> ThreadForm | None:
    """The thread of a bore or peg, None where it has none."""
    claim = entry.one(*THREAD_WORDS)
    return form_of(claim, claims, entry.kind == "bore") if claim is not None else None


def sizings(entry: Entry, claims: Claims) -> Iterator[Sizing]:
    """What to measure of the threads of a bore, peg or turning, of a gear, and of the racks of a block."""
    if entry.kind == "gear":
        yield from _of_gear(entry, claims)
    elif entry.kind == "block":
        for rack in block_racks(entry, claims) if entry.has("rack") else ():
            yield from _of_rack(entry, rack)
    elif entry.kind == "turning":
        for one in windings(entry, claims):
            yield _of_thread(entry, one.form, f" from {one.start:g} to {one.stop:g}", one.claim.text)
    elif (form := threaded(entry, claims)) is not None:
        yield _of_thread(entry, form, "", entry.all(*THREAD_WORDS)[0].text)


def _of_thread(entry: Entry, form: ThreadForm, where: str, line: str) -> Sizing:
    if form.outside:
        return Sizing(f"{entry.name} thread{where}", "peg", "outer jaws over the crests", form.across, line)
    return Sizing(
        f"{entry.name} thread{where}",
        "pocket",
        "inner jaws between the crests, or try it on",
        form.core,
        line,
    )


def _of_gear(entry: Entry, claims: Claims) -> Iterator[Sizing]:
    gear = gear_of(entry, claims).gear
    if gear.inside:
        yield Sizing(
            f"{entry.name} tips", "pocket", "inner jaws between the tips, at their widest", gear.over_tips, ""
        )
        return
    over = gear.spanned
    yield Sizing(
        f"{entry.name} span", "size", f"outer jaws over {over} teeth, flat on the flanks", gear.span(over), ""
    )
    yield Sizing(
        f"{entry.name} tips", "size", "outer jaws over the tips, at their widest", gear.over_tips, ""
    )


def _of_rack(entry: Entry, one: BlockRack) -> Iterator[Sizing]:
    rack, name = one.found.rack, f"{entry.name} rack {one.found.where}"
    if one.over > 1:
        how = f"from a flank of a tooth to the same flank of the tooth {one.over} on"
        yield Sizing(f"{name} pitch", "gap", how, one.over * rack.pitch, one.claim.text)
    if one.over_pin is not None:
        how = f"outer jaws over the {one.foot} and a pin of {rack.pin:g} laid in a gap"
        yield Sizing(f"{name} pin", "size", how, one.over_pin, "")


def wound(one: Winding) -> str:
    """What a thread of a turning measures, behind its line; '' where its name says that."""
    claim, form = one.claim, one.form
    if isinstance(claim.get("mate"), str):
        return f", \u00d8{form.across:.4g}" if claim.get("clear") is not None else ""
    starts = f", {form.starts} starts" if form.starts > 1 else ""
    return f", \u00d8{form.across:.4g} \u00d7 {form.pitch:.4g}, core \u00d8{form.core:.4g}{starts}"


def designation(entry: Entry, claims: Claims) -> str:
    """How a thread is called on a drawing: `M8 x 1`, or its size across and pitch; '' where there is none."""
    form = threaded(entry, claims)
    claim = entry.one(*THREAD_WORDS)
    if form is None or claim is None:
        return ""
    named = claim.get("mate")
    if isinstance(named, str):
        size, *pitch = named.upper().split("X")
        pitch = [f"{form.pitch:g}"] if claim.get("series") is not None else pitch
        play = f", {claim.number('clear'):g} clear" if claim.get("clear") is not None else ""
        return " \u00d7 ".join([size, *pitch]) + play
    hand = " LH" if form.left else ""
    return f"\u00d8{form.across:.4g} \u00d7 {form.pitch:.4g} thread{hand}"
