"""What is to be said of the racks of a block: a module in no series, a wheel that they mesh badly."""

from __future__ import annotations

from collections.abc import Iterator

from ...checks.meshing import MORE_TEETH, module_as_read, poor_contact
from ...diagnostics.types import Diagnostic
from ...quantities.racks import rack_contact
from .model import Block


def of_racks(block: Block) -> Iterator[Diagnostic]:
    """Notes and warnings on the racks of one block."""
    for rack in block.racks:
        found, span = rack.found, rack.said.span
        if found.module == "as read":
            says = (
                f"the module of the rack at the {found.where} of "
                f"`{block.name}` is made as read: {found.rack.module:.4g}, its pitch {found.rack.pitch:.4g}"
            )
            yield module_as_read(says, found.nearest, "rack", span)
        if rack.mate is not None:
            pair = f"`{rack.wheel}` and `{block.name}`"
            yield from poor_contact(pair, rack_contact(rack.mate), span, MORE_TEETH)
