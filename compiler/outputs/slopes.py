"""How steep a plane that leans is, and the sloping flat of a body that tapers: they were told by two heights."""

from __future__ import annotations

import math

from ..facts import Claims
from ..positions.layout import Layout, dot
from ..positions.leaning import tapered
from ..positions.pages import Pages


def slopes(claims: Claims, layout: Layout) -> tuple[tuple[str, str, float], ...]:
    """Name, word (`leans`, `taper`) and degrees from what the heights are read from, of every plane and body that slopes."""
    pages, found = Pages(claims, layout), []
    for entry in claims.of_kind("plane", "block", "plate"):
        claim = entry.one("leans") if entry.kind == "plane" else tapered(entry)
        if claim is None:
            continue
        page = pages._lean(claim)[0] if entry.kind == "plane" else pages.stand(entry.name)[0]
        flat = pages.tapered_flat(entry.name)
        frame, under = pages.frame(f"{entry.name}.{flat}" if flat else entry.name), layout.frames.get(page)
        if frame is not None and under is not None:
            turn = math.degrees(math.acos(min(1.0, abs(dot(frame.out, under.out)))))
            found.append((entry.name, claim.word, turn))
    return tuple(found)
