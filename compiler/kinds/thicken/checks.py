"""Does a thickened collar go past the outline of its body, so that less of it is made than was said?"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...checks.openings import Survey
from ...diagnostics.types import Diagnostic, Severity
from ...mesh.zoning import worked
from ...model.zones import CollarAt
from ...outlines import area, common
from ...outlines.measure import nearest_edge
from .model import Thicken

LEAST = 0.05  # mm: less is not seen


def ask(scene: Survey, zone: Thicken) -> Iterator[Diagnostic]:
    """A note on a collar that the outline of its body cuts off, with how much of it is lost."""
    if not isinstance(zone.area, CollarAt):
        return
    work = worked(scene.shop, zone)
    past = 0.5 * zone.area.across - nearest_edge(work.outline, zone.area.at)[0]
    lost = 1.0 - area(common(work.region, work.outline)) / area(work.region)
    if past <= LEAST or lost <= LEAST / zone.area.across:
        return
    yield Diagnostic(
        "zone-cut-off",
        Severity.NOTE,
        f"`{zone.area_said.text}` reaches {past:.2f} past the outline of `{work.body.name}`: "
        f"{math.ceil(100.0 * lost)} % of the collar is cut off",
        zone.area_said.span,
        advice=(
            "a zone stays inside the outline of its body; for a whole collar make that larger here, "
            "or put a peg on the flat",
        ),
    )
