"""Sizes as they are made, where what a thing is for moves them: a fit widens a hole all round, its flat as
well.

One place, so that the mesh, the report and the drawing say one size."""

from __future__ import annotations

from typing import cast

from ..kinds import needed_file
from ..quantities import Quantity, Standing, tables
from . import Claim, Claims, Entry, Measure
from .extents import across
from .needs import FIT_WORDS, ROUND_FITS

_FLATS = ("flat", "flats")
_ACROSS = ("drill", "across", "wide", "hex", "square", "same as")


def play(entry: Entry) -> float:
    """How much wider (mm) a hole is made than the shaft it goes on (narrower: a peg), 0 where no fit on a
    shaft is named.
    """
    meant = entry.one(*ROUND_FITS)
    if meant is None:
        return 0.0
    fit, size = tables.FITS[meant.word], meant.quantity("meant").value
    return size - (fit.hole_for(size) if entry.kind == "peg" else fit.pin_for(size))


def made_flat(entry: Entry, claim: Claim) -> Quantity:
    """The size over a flat, or over both, of a bore or peg: it takes the same play as the round does."""
    size, more = claim.quantity("size"), play(entry)
    return (
        size
        if more == 0.0
        else Quantity(size.value + more, 0.0, max(size.standing, Standing.WANTED), size.unit)
    )


def made(entry: Entry, claim: Claim, value: Measure, claims: Claims) -> Quantity:
    """A size of a statement as it is in the mesh, where it is there."""
    if entry.kind in ("bore", "peg") and claim.word in _FLATS:
        return made_flat(entry, claim)
    if entry.has(*FIT_WORDS) and claim.word in _ACROSS:
        meant = across(entry)
        return meant.made if meant is not None else value.made
    if claim.word == "pitch" and claim.get("over") is not None:
        over = claim.number("over")
        return Quantity(value.made.value / over, value.made.u / over, value.made.standing, value.made.unit)
    if entry.kind == "gear" and claim.word in ("across", "span"):
        return cast(Quantity, needed_file("gear", "made").made(entry, claim, value, claims))
    return value.made
