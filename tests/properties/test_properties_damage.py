"""Whatever is done to a recipe's text, an answer comes: a part that is closed, or messages; never a
traceback.
"""

from __future__ import annotations

import os
import time
from pathlib import Path
from random import Random

import makegood
from hypothesis import given, note, settings
from hypothesis import strategies as st

from . import damage, recipes, words
from .judged import closed_and_oriented, every_face_named

SEEDS = st.integers(0, 2**48)
EXAMPLES = tuple(
    file.read_text(encoding="utf-8")
    for file in sorted((Path(__file__).parents[2] / "examples").glob("*.mend"))
)
CASES = 10_000 if os.environ.get("MAKEGOOD_LONG") == "1" else 200
GENEROUS = 60.0  # seconds: only a hang is slower, on any machine


def answered(text: str) -> None:
    """A part with a closed mesh, or at least one error; soon enough that nobody thinks it hangs."""
    note(text)
    start = time.monotonic()
    result = makegood.compile_text(text, "damaged.mend")
    assert time.monotonic() - start < GENEROUS
    if result.ok:
        closed_and_oriented(result)
        every_face_named(result)
    else:
        assert any(one.is_error for one in result.diagnostics)
        assert all(one.headline and "\n" not in one.headline for one in result.diagnostics)


@given(SEEDS)
@settings(max_examples=CASES)
def test_damaged_examples_are_answered(seed: int) -> None:
    rnd = Random(seed)
    answered(damage.damaged(rnd.choice(EXAMPLES), rnd))


@given(SEEDS)
@settings(max_examples=CASES)
def test_damaged_recipes_are_answered(seed: int) -> None:
    rnd = Random(seed)
    answered(damage.damaged(recipes.recipe(rnd).text(rnd), rnd))


@given(SEEDS)
@settings(max_examples=CASES)
def test_lines_that_make_no_sense_together_are_answered(seed: int) -> None:
    answered(words.recipe(Random(seed), 12))


@given(st.text(max_size=300))
@settings(max_examples=CASES)
def test_any_text_is_answered(text: str) -> None:
    answered(text)
    makegood.tidy_text(text)


@given(st.integers(0, 2**48), st.integers(0, 5))
@settings(max_examples=CASES)
def test_tidying_damaged_text_never_fails_and_never_changes_what_it_says(seed: int, times: int) -> None:
    rnd = Random(seed)
    text = rnd.choice(EXAMPLES)
    for _ in range(times):
        text = damage.damaged(text, rnd)
    tidied, found = makegood.tidy_text(text)
    note(text)
    if tidied is None:
        assert any(one.is_error for one in found)
    else:
        assert makegood.tidy_text(tidied)[0] == tidied
