"""A part that comes out in several pieces: which body is loose, and how far it is from what it should hang on."""

from __future__ import annotations

import numpy as np

from ..diagnostics.types import Diagnostic, Severity
from ..facts import Claims
from .combine import overlap, pieces
from .kernel import Solid


def falls_apart(claims: Claims, whole: Solid, parts: list[tuple[str, Solid]], sliver: float) -> Diagnostic | None:
    """The message for a part that is not in one piece; `parts` are its bodies and their copies by name, `sliver` (mm3) the
    least that two solids share where they are one."""
    found = pieces(whole)
    if len(found) <= 1:
        return None
    homes = [{name.split(".")[0] for name, solid in parts if overlap(solid, piece) > sliver} for piece in found]
    main = max(range(len(found)), key=lambda i: (found[i].volume(), -i))
    loose = sorted({name for i, home in enumerate(homes) if i != main for name in home})
    entry = claims.entries[loose[0]] if loose else claims.entries[parts[0][0]]
    others = ", ".join(f"`{name}`" for name in loose or [entry.name])
    said = f"the part falls into {len(found)} pieces: {others} is not joined to the rest"
    advice: tuple[str, ...] = ("bodies join where they touch or overlap: move one, or make a hole smaller",)
    if len(homes) > 1 and set(loose) <= homes[main]:
        said = f"the part falls into {len(found)} pieces: {others} is cut apart by its holes"
    elif loose:
        piece = next(i for i, home in enumerate(homes) if i != main and loose[0] in home)
        advice = (*_gap(loose[0], found[piece], [one for one in parts if one[0].split(".")[0] not in homes[piece]]), *advice)
    return Diagnostic("falls-apart", Severity.ERROR, said, entry.span, advice=advice)


def _gap(name: str, piece: Solid, others: list[tuple[str, Solid]]) -> tuple[str, ...]:
    """The body nearest to a loose piece, and the distance; boxes first, so that far bodies cost nothing."""
    box = _box(piece)
    near = sorted((_between(box, _box(solid)), other, k) for k, (other, solid) in enumerate(others))
    best: tuple[float, str] | None = None
    for least, other, k in near:
        if best is not None and least >= best[0]:
            break
        reach = float(np.linalg.norm(np.ptp(np.vstack([box, _box(others[k][1])]), axis=0)))
        gap = float(piece.min_gap(others[k][1], reach))
        best = (gap, other) if best is None or gap < best[0] else best
    if best is None:
        return ()
    if best[0] < 1e-9:
        return (f"`{name}` touches `{best[1]}` along an edge or at a point only, and nothing holds them there",)
    return (f"`{name}` stands {_length(best[0])} mm off `{best[1]}`, the body nearest to it",)


def _length(gap: float) -> str:
    return f"{gap:.2f}" if gap >= 0.01 else f"{gap:.1g}"


def _box(solid: Solid) -> np.ndarray:
    return np.array(solid.bounding_box()).reshape(2, 3)


def _between(a: np.ndarray, b: np.ndarray) -> float:
    return float(np.linalg.norm(np.maximum(0.0, np.maximum(a[0] - b[1], b[0] - a[1]))))
