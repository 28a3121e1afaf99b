"""How far a loose piece of a part is from what it should hang on."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .kernel import Solid


def gap_to_nearest(name: str, piece: Solid, others: Sequence[tuple[str, Solid]]) -> tuple[str, ...]:
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
        return (
            f"`{name}` touches `{best[1]}` along an edge or at a point only, and nothing holds them there",
        )
    return (f"`{name}` stands {_length(best[0])} mm off `{best[1]}`, the body nearest to it",)


def _length(gap: float) -> str:
    return f"{gap:.2f}" if gap >= 0.01 else f"{gap:.1g}"


def _box(solid: Solid) -> np.ndarray:
    return np.array(solid.bounding_box()).reshape(2, 3)


def _between(a: np.ndarray, b: np.ndarray) -> float:
    return float(np.linalg.norm(np.maximum(0.0, np.maximum(a[0] - b[1], b[0] - a[1]))))
