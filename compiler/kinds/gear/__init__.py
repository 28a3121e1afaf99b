"""A spur or helical gear, external or internal, on the ISO 53 profile."""

from __future__ import annotations

from ..types import FLATS, Body

BODY = Body(
    needs=((("teeth",), "teeth 19"), (("thick",), "thick 6.0")),
    speaks_of={("meshes", "thing"): frozenset({"gear", "neighbour"})},
    parts=FLATS,
    centred=True,
    rounded=True,
    thick="thick",
    shown=("teeth", "module", "span", "shift", "helix"),
)
