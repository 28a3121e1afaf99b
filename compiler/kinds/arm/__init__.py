"""A snap arm: a cantilever that stands on a flat, its nose to one side."""

from __future__ import annotations

from ..types import FLATS, SIDES, Body

BODY = Body(
    needs=(
        (("on",), "on cover.front"),
        (("long",), "long 12.0"),
        (("wide",), "wide 6.0"),
        (("thick",), "thick 2.0"),
        (("nose",), "nose 1.2 facing right"),
    ),
    parts=FLATS + SIDES,
    centred=True,
    boxed=True,
)
