"""How far things reach from their centre on the page: as read (places are solved with these) and as made."""

from __future__ import annotations

from typing import cast

from ..kinds import needed_file, own_file, traits
from ..quantities import Quantity
from ..quantities.vectors import XY
from . import Claim, Entry, Measure
from .needs import BOX_WORDS, BOXES, FIT_WORDS

_ROUND_WORDS = ("across", "drill", "hex", "square")


def tapered(entry: Entry) -> Claim | None:
    """The fact by which a block or plate is thicker at one place than at another."""
    return entry.one("taper") if entry.kind in ("block", "plate") else None


def box_claims(entry: Entry) -> tuple[Claim, ...]:
    """The size facts of a block (or of what is cut or measured like one) in the order x, y, out of the
    page.
    """
    return tuple(claim for word in BOX_WORDS if (claim := entry.one(word)) is not None)


def is_round(entry: Entry) -> bool:
    """True for a thing whose edge readings are taken to a round (or to the flats of a hexagon or square)."""
    return traits(entry.kind).rounded or (entry.kind == "neighbour" and entry.has("across", "hex", "square"))


def is_box(entry: Entry) -> bool:
    """True for a thing with four straight sides on the page."""
    if traits(entry.kind).boxed:
        return True
    return entry.kind == "neighbour" and not is_round(entry) and len(box_claims(entry)) >= 2


def radius(entry: Entry, made: bool) -> float | None:
    """Half the size across of a round thing or half the width of a slot, in mm; None where it was never
    read.
    """
    if entry.kind == "turning" and made:
        return 0.5 * largest_station(entry) or None
    if entry.kind == "turning":
        measure: Measure | None = needed_file("turning", "stations").widest(entry)
    else:
        measure = across(entry)
    if measure is None:
        return None
    found = measure.made if made else measure.read
    return None if found is None else 0.5 * found.value


def across(entry: Entry) -> Measure | None:
    """The size across of a round thing or the width of a slot: as read, and as it is meant by what it is
    for.
    """
    size: Measure | None = None
    for word in ("wide", *_ROUND_WORDS) if entry.kind == "slot" else _ROUND_WORDS:
        claim = entry.one(word)
        if claim is not None:
            size = claim.measure("size")
    alike = entry.one("same as", "chord")
    if alike is not None:
        size = alike.measure("across")
    meant = entry.one(*FIT_WORDS[:-1])
    if meant is not None:
        return Measure(size.read if size else None, meant.quantity("meant"))
    if size is not None and entry.has("as read") and size.read is not None:
        return Measure(size.read, size.read)
    return size


def size_claim(entry: Entry) -> tuple[Claim, Quantity] | None:
    """The fact that a round thing's size across (a slot's width) was read by, and the reading; None where it
    was not.
    """
    if entry.kind not in ("round", "bore", "peg", "neighbour", "slot"):
        return None
    for word in ("wide", *_ROUND_WORDS) if entry.kind == "slot" else (*_ROUND_WORDS, "chord"):
        claim = entry.one(word)
        if claim is not None:
            read = claim.measure("across" if word == "chord" else "size").read
            return (claim, read) if read is not None else None
    return None


def station_across(claim: Claim) -> float:
    """The largest diameter that a station of a turning is made."""
    if claim.word == "taper":
        return max(claim.number("first"), claim.number("second"))
    return claim.number("size")


def largest_station(entry: Entry) -> float:
    """The largest diameter (mm) of a turning as made, 0 where it has no station."""
    return max((station_across(claim) for claim in entry.all("across", "taper")), default=0.0)


def station_ends(entry: Entry) -> list[float]:
    """Where the stations of a turning start and stop on its axis, in mm."""
    return [claim.number(key) for claim in entry.all("across", "taper") for key in ("start", "stop")]


def half(entry: Entry, made: bool) -> XY:
    """Half-sizes on the page in mm, along the thing's own long direction and across it."""
    own = own_file(entry.kind, "sizes")
    if own is not None:
        return cast(XY, own.half(entry, made))
    if is_box(entry):
        sizes = [claim.measure("size") for claim in box_claims(entry)[:2]]
        picked = [(one.made if made or one.read is None else one.read).value for one in sizes]
        return 0.5 * picked[0], 0.5 * picked[1]
    wide = radius(entry, made) or 0.0
    if entry.kind == "slot" and (claim := entry.one("long")) is not None:
        size = claim.measure("size")
        return 0.5 * (size.made if made or size.read is None else size.read).value, wide
    return wide, wide


def thickness(entry: Entry) -> float | None:
    """How far a body reaches out of its page, in mm as made; None where another flat decides it
    (`reaches`).
    """
    own = own_file(entry.kind, "sizes")
    if own is not None:
        return cast("float | None", own.high(entry))
    taper = tapered(entry)
    if taper is not None:
        return max(taper.number("first"), taper.number("second"))
    if entry.kind in BOXES:
        claims = box_claims(entry)
        return claims[2].number("size") if len(claims) == 3 else None
    claim = entry.one(traits(entry.kind).thick)
    return claim.number("size") if claim is not None else None
