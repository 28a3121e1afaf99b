"""What the rooms ask of a kind of statement, whether or not it has a folder of its own."""

from __future__ import annotations

from msgspec import Struct

FLATS = ("front", "back")
SIDES = ("left", "right", "top", "bottom")


class KindTraits(Struct, frozen=True):
    """A kind in figures and words; what it computes stands in the other files of its folder.

    parts    flats and sides it gives names to
    rounded  readings to its edge are taken to a round
    boxed    it has four straight sides on the page
    turned   it lies some way round on its plane, which the solver must know
    spans    it lies between two flats
    thick    the fact that says how far it reaches out of its page, where that is one fact
    sizes    how many of the sizes of a box it must have, 0 where its table of lines says what it needs

    Its lines, what it needs and excludes, and the classes of things it belongs to stand in `lines.shapes`."""

    parts: tuple[str, ...] = ()
    rounded: bool = False
    boxed: bool = False
    turned: bool = False
    spans: bool = False
    thick: str = ""
    sizes: int = 0


# Kinds that give no more than places and outlines need no folder.
WITHOUT_FOLDER = {
    "round": KindTraits(rounded=True),
    "rectangle": KindTraits(boxed=True, sizes=2),
}


__all__ = ["FLATS", "SIDES", "WITHOUT_FOLDER", "KindTraits"]
