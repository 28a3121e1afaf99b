"""The border, the title block from the recipe's card, the sign of the projection, and what found no place
elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ...quantities.vectors import XY
from .amounts import shown
from .lettering import shortened, wrapped
from .marks import Arc, Mark, Role, Text, line, ring
from .views import Scene

EDGE = 10.0
STRIP = 36.0  # height of the title block
BLOCK = 150.0  # its width


def frame_and_title(scene: Scene, paper: XY, scale: float, unplaced: Sequence[str]) -> Iterator[Mark]:
    """Everything round the views."""
    wide, high = paper
    yield ring(
        Role.VISIBLE, [(EDGE, EDGE), (wide - EDGE, EDGE), (wide - EDGE, high - EDGE), (EDGE, high - EDGE)]
    )
    left, right, top = wide - EDGE - BLOCK, wide - EDGE, EDGE + STRIP
    yield line(Role.VISIBLE, (left, EDGE), (left, top), (right, top))
    yield from _block(scene, left, right, top, scale)
    yield from _beside(unplaced, EDGE, left)


def _block(scene: Scene, left: float, right: float, top: float, scale: float) -> Iterator[Mark]:
    """The title block: rows of a small name over what it says."""
    card = dict(scene.model.card.fields)
    fold = right - 52.0
    yield line(Role.NARROW, (fold, EDGE), (fold, top))
    yield Text(
        (left + 2, top - 7.5), shortened(scene.model.card.title, 5.5, fold - left - 4, True), 5.5, bold=True
    )
    y = top - 12.0
    for name in ("fits", "broke", "changed"):
        if name in card and y > EDGE + 7.0:
            yield Text((left + 2, y), name, 2.6, shade=0.35)
            for words in wrapped(card[name], 2.9, fold - left - 20, 2):
                yield Text((left + 16, y), words, 2.9)
                y -= 3.6
            y -= 0.6
    foot = ", ".join(f"{name} {card[name]}" for name in ("author", "licence") if name in card)
    said = f"from {scene.source_name}" + (f"; {foot}" if foot else "")
    yield Text((left + 2, EDGE + 2.0), shortened(said, 2.6, fold - left - 4), 2.6, shade=0.35)
    yield from _facts(scene, card, fold, right, top, scale)


def _facts(
    scene: Scene, card: dict[str, str], fold: float, right: float, top: float, scale: float
) -> Iterator[Mark]:
    rows = [
        ("scale", _ratio(scale)),
        ("sizes", "mm"),
        ("plastic", card.get("plastic", "not said")),
        ("make", str(scene.model.card.make)),
    ]
    y = top - 5.0
    for name, said in rows:
        yield Text((fold + 2, y), name, 2.6, shade=0.35)
        yield Text((fold + 14, y), shortened(said, 2.9, right - fold - 36), 2.9)
        y -= 4.2
    yield from projection_sign((right - 19.0, top - 9.0))
    told = [
        "third-angle: views lie where they are seen from",
        "± at a read size: its give-or-take;",
        "at a wanted size: what will do (ISO 2768-m)",
        "( ) follows from others or is about",
    ]
    if scene.part.mirrored:
        told.append("drawn is the part to make, the other hand")
    for words in told:
        yield Text((fold + 2, y - 0.4), shortened(words, 2.4, right - fold - 3), 2.4, shade=0.2)
        y -= 3.0


def _ratio(scale: float) -> str:
    """`2:1`, `1:5` (ISO 5455)."""
    return f"{shown(scale)}:1" if scale >= 1 else f"1:{shown(1 / scale)}"


def projection_sign(at: XY) -> Iterator[Mark]:
    """The sign of third-angle projection (ISO 5456-2, from memory): end view of a cut cone, the cone to its
    right.
    """
    x, y = at
    yield Arc(Role.NARROW, (x, y), 3.0)
    yield Arc(Role.NARROW, (x, y), 1.5)
    yield ring(Role.NARROW, [(x + 6, y - 1.5), (x + 13, y - 3.0), (x + 13, y + 3.0), (x + 6, y + 1.5)])
    yield line(Role.CENTRE, (x - 4.5, y), (x + 15, y))
    yield line(Role.CENTRE, (x, y - 4.5), (x, y + 4.5))


def _beside(unplaced: Sequence[str], left: float, right: float) -> Iterator[Mark]:
    """The sizes that found no place at a view, in columns."""
    if not unplaced:
        return
    rows = 8
    columns = max(1, math.floor((right - left - 4) / 42))
    room = (right - left - 4) / columns - 2
    most = rows * columns
    told = (
        list(unplaced)
        if len(unplaced) <= most
        else [*unplaced[: most - 1], f"and {len(unplaced) - most + 1} more"]
    )
    yield Text((left + 2, EDGE + STRIP - 3.5), "further sizes", 2.6, shade=0.35)
    for number, words in enumerate(told):
        x, y = left + 2 + (number // rows) * (room + 2), EDGE + STRIP - 7.5 - 3.7 * (number % rows)
        yield Text((x, y), shortened(words, 2.8, room), 2.8)
