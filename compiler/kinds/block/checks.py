"""What is asked of a block that was built: of its racks, where it has any."""

from __future__ import annotations

from collections.abc import Iterator

from ...checks.openings import Survey
from ...diagnostics.types import Diagnostic
from .. import needed_file
from .model import Block


def ask(scene: Survey, block: Block) -> Iterator[Diagnostic]:
    """Notes and warnings on the racks of one block."""
    if block.racks:
        yield from needed_file("block", "rack_checks").of_racks(block)
