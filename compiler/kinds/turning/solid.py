"""A turning as a solid: its half profile turned about its axis, with threads and grips."""

from __future__ import annotations

from ...mesh.combine import place
from ...mesh.grips import gripped
from ...mesh.kernel import Solid
from ...mesh.sections import half_profile
from ...mesh.threading import windings, wound
from ...mesh.turnings import turned
from ...mesh.workshop import Workshop, axes
from .model import Turning


def build(shop: Workshop, body: Turning) -> Solid:
    """The turning in space."""
    entry, marks, chord = shop.claims.entries[body.name], shop.marks, shop.chord
    base, out = (0.0, 1) if body.lies else (body.placed.base, body.placed.out)
    threads = windings(entry, shop.claims)
    profile = half_profile(entry, marks, base, out, threads, chord)
    some = wound(threads, base, out, marks.of(body.name, "thread"), shop.flip) if threads else ()
    solid = gripped(turned(*profile, chord, some), entry, profile, marks, base, out, chord)
    return place(solid, body.axis.origin, axes(body.axis))
