"""A rim: a wall that follows the outline of a plate, block or strip."""

from __future__ import annotations

from ..types import Body

BODY = Body(
    needs=((("on",), "on cover.front"), (("thick",), "thick 1.2"), (("high",), "high 3.0")),
    thick="high",
)
