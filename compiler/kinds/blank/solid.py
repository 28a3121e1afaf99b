"""A mesh that is there already, its back towards what it stands on."""

from __future__ import annotations

from ...mesh.kernel import Solid
from ...mesh.workshop import Workshop
from ...model.brought import Brought


def build(shop: Workshop, body: Brought) -> Solid:
    """The material in space.  Raises Trouble('bad-solid')."""
    return shop.placed(shop.bare_stock(body), body.frame)
