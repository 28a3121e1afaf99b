"""Threads on bodies: which stretch of a turning, peg or bore is threaded, and what it stands on."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from ..diagnostics.types import Trouble
from ..facts import Claim, Claims, Entry
from ..facts.needs import THREAD_WORDS
from ..facts.threads import ThreadForm, form_of
from ..outlines.marks import Marks
from .kernel import Solid
from .threads import MEETS, Wound
from .turnings import turned

Ends = tuple[float, float]

LEAST_WALL = 0.04  # mm, and six chords: facets of both sides of the wall cut into it


class Winding(Struct, frozen=True):
    """A thread along the axis of a turning: its form, the stations (mm) it runs between, the claim behind
    it.
    """

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


def threaded_peg(
    entry: Entry, claims: Claims, marks: Marks, heights: Ends, bevels: Ends, chord: float, flip: bool
) -> Solid:
    """A threaded peg about z between two heights, with bevels (back, front) at its ends.  Raises Trouble."""
    form = threaded(entry, claims)
    assert form is not None
    (low, high), (back, front), r = heights, bevels, 0.5 * form.ground
    if back + front > high - low - MEETS or max(bevels) > r - MEETS:
        said = f"the bevels of `{entry.name}` leave nothing for its thread to wind round"
        raise Trouble("bevel-too-large", said, (entry.name,), advice=("a smaller bevel",))
    side, bevel = marks.of(entry.name), marks.of(entry.name, "bevel")
    corners = [
        (0.0, low, marks.of(entry.name, "back")),
        (r - back, low, bevel if back else side),
        (r, low + back, side),
        (r, high - front, bevel),
        (r - front, high, marks.of(entry.name, "front")),
        (0.0, high, side),
    ]
    one = Wound(form, low, high, form.left != flip, marks.of(entry.name, "thread"))
    return _about_z(corners, True, chord, one)


def threaded_tool(
    entry: Entry, claims: Claims, marks: Marks, heights: Ends, body: Ends, chord: float, flip: bool
) -> Solid:
    """The cutter of a threaded bore about z between two heights: it leaves the ridges standing, as far as the
    body goes.
    """
    form = threaded(entry, claims)
    assert form is not None
    (low, high), r, label = heights, 0.5 * form.ground, marks.of(entry.name)
    one = Wound(
        form, max(low, body[0]), min(high, body[1]), form.left != flip, marks.of(entry.name, "thread")
    )
    return _about_z(
        [(0.0, low, label), (r, low, label), (r, high, label), (0.0, high, label)], False, chord, one
    )


def _about_z(corners: Sequence[tuple[float, float, int]], outside: bool, chord: float, one: Wound) -> Solid:
    """What corners (radius, height, label of the edge from there) enclose with the axis, threaded."""
    labels = np.array([label for *_, label in corners], dtype=np.int32)
    return turned(
        np.array([corner[:2] for corner in corners]), labels, np.full(len(corners), outside), chord, (one,)
    )


def windings(entry: Entry, claims: Claims) -> tuple[Winding, ...]:
    """The threads of a turning.  Raises Trouble: 'bad-thread' for two on one stretch, and what `form_of`
    raises.
    """
    found = []
    for claim in sorted(entry.all(*THREAD_WORDS), key=lambda one: one.text):
        inside = claim.word == "screws on" or claim.word_of("which") == "inside"
        start, stop = sorted((claim.number("start"), claim.number("stop")))
        found.append(Winding(form_of(claim, claims, inside), start, stop, claim))
    for a, b in itertools.combinations(found, 2):
        if a.form.outside == b.form.outside and max(a.start, b.start) < min(a.stop, b.stop) - MEETS:
            shared = f"from {max(a.start, b.start):g} to {min(a.stop, b.stop):g}"
            raise Trouble(
                "bad-thread",
                f"two threads of `{entry.name}` share the stretch {shared}",
                (entry.name,),
                advice=("let one end where the other begins",),
            )
    return tuple(found)


def wound(some: tuple[Winding, ...], base: float, out: int, label: int, flip: bool) -> tuple[Wound, ...]:
    """The threads of a turning about z, station 0 at height `base`; `flip` makes the other hand."""
    ends = [sorted((base + out * one.start, base + out * one.stop)) for one in some]
    return tuple(
        Wound(one.form, low, high, one.form.left != flip, label)
        for one, (low, high) in zip(some, ends, strict=True)
    )


def check_ground(name: str, one: Winding, bare: float, hollow: float, chord: float) -> None:
    """Raise Trouble where a thread finds no material to stand on: 'thread-misses', 'no-wall'.

    `bare` and `hollow`: the least radius of the body's outside and the greatest of its bore, along the
    thread."""
    across = one.form.ground
    if one.form.outside:
        if bare < one.ground - MEETS:
            raise Trouble(
                "thread-misses",
                f"`{name}` is only {2 * bare:.4g} across where its thread has a core of "
                f"{across:.4g}: the ridges would stand on nothing",
                (name,),
                advice=(f"make it {one.form.across:.4g} across there: the thread is cut from that",),
            )
        wall, other = one.ground - hollow, f"bored {2 * hollow:.4g}"
    else:
        if hollow > one.ground + MEETS:
            raise Trouble(
                "thread-misses",
                f"`{name}` is bored {2 * hollow:.4g} where its thread is {across:.4g} wide: the "
                "ridges would stand on nothing",
                (name,),
                advice=("a thread makes its own bore: end the `bored` line where the thread begins",),
            )
        wall, other = bare - one.ground, f"{2 * bare:.4g} across outside"
    if wall < LEAST_WALL + 6.0 * chord:
        raise Trouble(
            "no-wall",
            f"the thread of `{name}` goes to {across:.4g} across where the body is {other}: no wall is left",
            (name,),
            advice=("more material there, or a smaller thread",),
        )
