"""What must hold of every threaded part, whatever its threads: closed, one piece, no hole filled, order means
nothing.
"""

from __future__ import annotations

import os
from random import Random

import numpy as np
from hypothesis import given, note, settings
from hypothesis import strategies as st
from makegood.outputs import report_json

from .judged import closed_and_oriented, compiled, every_face_named, same_mesh
from .wheels import threaded

SEEDS = st.integers(0, 2**48)
LONG = os.environ.get("MAKEGOOD_LONG") == "1"
MANY = settings(max_examples=300 if LONG else 25)


@given(SEEDS)
@MANY
def test_a_threaded_part_is_closed_in_one_piece_and_its_holes_stay_open(seed: int) -> None:
    rnd = Random(seed)
    recipe = threaded(rnd)
    note(recipe.text())
    result = compiled(recipe.text(rnd))
    closed_and_oriented(result)
    every_face_named(result)
    assert result.figures is not None
    assert result.figures.genus == recipe.genus
    assert "hole-filled" not in {one.code for one in result.diagnostics}


@given(SEEDS)
@MANY
def test_the_order_of_lines_reaches_neither_the_mesh_nor_the_report(seed: int) -> None:
    rnd = Random(seed)
    recipe = threaded(rnd)
    first, second = compiled(recipe.text()), compiled(recipe.text(rnd))
    same_mesh(first, second)
    assert report_json(first.report()) == report_json(second.report())


@given(SEEDS)
@MANY
def test_the_other_hand_has_the_same_threads(seed: int) -> None:
    """Same volume and box to the facets, and facets as near the axis and as far from it: only where they
    begin differs.
    """
    recipe = threaded(Random(seed))
    one, two = compiled(recipe.text()), compiled(recipe.text(hand=True))
    note(recipe.text())
    closed_and_oriented(two)
    assert one.figures is not None
    assert two.figures is not None
    assert abs(one.figures.volume - two.figures.volume) <= 1e-5 * one.figures.volume
    assert np.allclose(one.figures.box, two.figures.box, atol=0.02)
    assert one.figures.genus == two.figures.genus


@given(SEEDS)
@settings(max_examples=100 if LONG else 10)
def test_a_smaller_chord_comes_nearer_to_the_true_part(seed: int) -> None:
    recipe = threaded(Random(seed))
    text = recipe.text()
    note(text)
    volumes = []
    for chord in (0.08, 0.01, 0.001):
        figures = compiled(text, chord).figures
        assert figures is not None
        volumes.append(figures.volume)
    assert volumes[0] <= volumes[2] + 1e-9 * volumes[2]
    assert abs(volumes[2] - volumes[1]) <= 0.5 * abs(volumes[2] - volumes[0]) + 1e-6 * volumes[2]
