"""Threads on bodies: which stretch of a turning, peg or bore is threaded, what it stands on, and the ridges there."""

from __future__ import annotations

import itertools

from msgspec import Struct

from ..diagnostics.types import Trouble
from ..facts import Claim, Claims, Entry
from ..facts.needs import THREAD_WORDS
from ..facts.threads import ThreadForm, form_of
from .kernel import Solid
from .threads import buried, ridges

MEETS = 1e-6


class Winding(Struct, frozen=True):
    """A thread along the axis of a turning: its form, the stations (mm) it runs between, the claim behind it."""

    form: ThreadForm
    start: float
    stop: float
    claim: Claim

    @property
    def ground(self) -> float:
        """Radius of what its ridges stand on."""
        return 0.5 * self.form.ground


def threaded(entry: Entry, claims: Claims) -> ThreadForm | None:
    """The thread of a bore or peg, None where it has none."""
    claim = entry.one(*THREAD_WORDS)
    return form_of(claim, claims, entry.kind == "bore") if claim is not None else None


def windings(entry: Entry, claims: Claims) -> tuple[Winding, ...]:
    """The threads of a turning.  Raises Trouble: 'bad-thread' for two on one stretch, and what `form_of` raises."""
    found = []
    for claim in sorted(entry.all(*THREAD_WORDS), key=lambda one: one.text):
        inside = claim.word == "screws on" or claim.word_of("which") == "inside"
        start, stop = sorted((claim.number("start"), claim.number("stop")))
        found.append(Winding(form_of(claim, claims, inside), start, stop, claim))
    for a, b in itertools.combinations(found, 2):
        if a.form.outside == b.form.outside and max(a.start, b.start) < min(a.stop, b.stop) - MEETS:
            shared = f"from {max(a.start, b.start):g} to {min(a.stop, b.stop):g}"
            raise Trouble("bad-thread", f"two threads of `{entry.name}` share the stretch {shared}", (entry.name,),
                          advice=("let one end where the other begins",))  # fmt: skip
    return tuple(found)


def wound(entry: Entry, some: tuple[Winding, ...], base: float, out: int, chord: float, label: int, flip: bool) -> list[Solid]:
    """The ridges of a turning's threads about z, station 0 at height `base`; they keep off the bevels of their ends."""
    found: list[Solid] = []
    for one in some:
        start, stop = one.start, one.stop
        for claim in entry.all("bevel"):
            if (claim.word_of("which", "outside") == "outside") == one.form.outside:
                size, station = claim.number("number"), claim.number("station")
                start = start + size if abs(station - one.start) < MEETS else start
                stop = stop - size if abs(station - one.stop) < MEETS else stop
        low, high = sorted((base + out * start, base + out * stop))
        found.extend(ridges(one.form, low, high, chord, label, flip))
    return found


def check_ground(name: str, one: Winding, bare: float, hollow: float, chord: float) -> None:
    """Raise Trouble where a thread finds no material to stand on: 'thread-misses', 'no-wall'.

    `bare` and `hollow`: the least radius of the body's outside and the greatest of its bore, along the thread.
    """
    across = one.form.ground
    if one.form.outside:
        if bare < one.ground - MEETS:
            raise Trouble("thread-misses", f"`{name}` is only {2 * bare:.4g} across where its thread has a core of "
                          f"{across:.4g}: the ridges would stand on nothing", (name,),
                          advice=(f"make it {one.form.across:.4g} across there: the thread is cut from that",))  # fmt: skip
        wall, other = one.ground - hollow, f"bored {2 * hollow:.4g}"
    else:
        if hollow > one.ground + MEETS:
            raise Trouble("thread-misses", f"`{name}` is bored {2 * hollow:.4g} where its thread is {across:.4g} wide: the "
                          "ridges would stand on nothing", (name,),
                          advice=("a thread makes its own bore: end the `bored` line where the thread begins",))  # fmt: skip
        wall, other = bare - one.ground, f"{2 * bare:.4g} across outside"
    if wall < 2.0 * buried(chord):
        raise Trouble("no-wall", f"the thread of `{name}` goes to {across:.4g} across where the body is {other}: no wall is "
                      "left", (name,), advice=("more material there, or a smaller thread",))  # fmt: skip
