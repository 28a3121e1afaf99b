"""Which holes stand clear of each other, against the distances of all pairs."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from makegood.mesh.holes_in_outline import _apart


@given(st.integers(0, 2**32 - 1), st.integers(1, 60), st.floats(2.0, 80.0))
def test_circles_that_touch_are_found_like_by_trying_all_pairs(seed: int, count: int, room: float):
    dice = np.random.default_rng(seed)
    at, reach = dice.uniform(-room, room, (count, 2)), dice.uniform(0.2, 3.0, count)
    gap = np.hypot(*(at[:, None] - at[None]).transpose(2, 0, 1)) - reach[:, None] - reach[None]
    np.fill_diagonal(gap, 1.0)
    assert (_apart(at, reach) == (gap > 0).all(axis=1)).all()
