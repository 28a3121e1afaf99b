"""The shaded picture: it shows as much of the part as there is to see, and what a zone changed in a colour of
its own.
"""

from __future__ import annotations

import io
from pathlib import Path

import makegood
import numpy as np
import pytest
from makegood.outputs.paper import shaded
from PIL import Image

from .reading import EXAMPLES, shadow_of


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_part_covers_its_shadow(path: Path):
    """Pixels of the part (plastic, not paper) against the shadow that shapely finds: edges and letters take
    the rest.
    """
    result = makegood.compile_file(path)
    view = shaded._view(result._scene())
    shadow = shadow_of(result, view.right, view.up)
    left, low, right, high = shadow.bounds
    scale = min(
        (shaded.WIDE - 2 * shaded.AIR) / (right - left), (shaded.HIGH - 2 * shaded.AIR) / (high - low)
    )
    picture = np.asarray(Image.open(io.BytesIO(result.picture()))).astype(int)
    plastic = (picture[..., 0] - picture[..., 2]) > 8
    area = plastic.sum() * (25.4 / shaded.DPI) ** 2
    assert 0.92 < area / (shadow.area * scale**2) < 1.002


def test_only_what_a_zone_changed_has_its_colour():
    def tinted(path: Path) -> int:
        picture = np.asarray(Image.open(io.BytesIO(makegood.compile_file(path).picture()))).astype(int)
        return int(((picture[..., 0] - picture[..., 2]) > 50).sum())

    lever = next(path for path in EXAMPLES if path.stem == "roof-vent-lever")
    bush = next(path for path in EXAMPLES if path.stem == "mower-handle-bush")
    assert tinted(lever) > 5000
    assert tinted(bush) == 0


def test_a_nearer_face_wins_wherever_it_stands_in_the_mesh():
    """Two squares on the screen, the second nearer: it shows where both are, whichever comes first."""
    far = np.array(
        [
            [[0.0, 0.0, 1.0], [8.0, 0.0, 1.0], [8.0, 8.0, 1.0]],
            [[0.0, 0.0, 1.0], [8.0, 8.0, 1.0], [0.0, 8.0, 1.0]],
        ]
    )
    near = far * np.array([0.5, 0.5, 1.0]) + np.array([0.0, 0.0, 3.0])
    for triangles, wanted in ((np.concatenate([far, near]), {2, 3}), (np.concatenate([near, far]), {0, 1})):
        winner, column, row = shaded._nearest(triangles, (8, 8))
        assert len(winner) == 64
        inner = (column < 4) & (row < 4)
        assert set(winner[inner].tolist()) == wanted
        assert not set(winner[~inner].tolist()) & wanted
