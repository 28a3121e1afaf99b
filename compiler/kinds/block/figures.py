"""What the report tells of a block: its racks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...outputs.figures import Figures
from .model import Block

if TYPE_CHECKING:
    from .racks import RackOf


def sizes(block: Block) -> Figures:
    """What each rack is checked by, mm."""
    return tuple(size for one in block.racks for size in _of(one))


def _of(one: RackOf) -> list[tuple[str, float]]:
    rack, said = one.found.rack, f"rack {one.found.where}"
    found = [(f"{said}, {one.row.whole} whole teeth, module", rack.module), (f"{said}, pitch", rack.pitch)]
    if one.over > 1:
        found.append((f"{said}, pitch over {one.over} teeth", one.over * rack.pitch))
    found += [
        (f"{said}, depth", rack.depth),
        (f"{said}, tooth on the pitch line", rack.thickness),
        (f"{said}, pitch line over {one.foot}", one.line),
    ]
    if one.over_pin is not None:
        found.append((f"{said}, a pin of {rack.pin:g} over {one.foot}", one.over_pin))
    return found
