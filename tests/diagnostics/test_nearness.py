"""Did you mean: the distance against its definition, and answers among many."""

from __future__ import annotations

import random
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics import nearest
from makegood.diagnostics.nearness import slips

WORDS = st.text("abcd-", max_size=9)


def _by_definition(first: str, second: str) -> int:
    """Optimal string alignment, written straight from its recursion (Lowrance and Wagner 1975, restricted
    form).
    """

    @cache
    def d(i: int, j: int) -> int:
        if i == 0 or j == 0:
            return i + j
        best = min(d(i - 1, j) + 1, d(i, j - 1) + 1, d(i - 1, j - 1) + (first[i - 1] != second[j - 1]))
        if i > 1 and j > 1 and first[i - 1] == second[j - 2] and first[i - 2] == second[j - 1]:
            best = min(best, d(i - 2, j - 2) + 1)
        return best

    return d(len(first), len(second))


@given(WORDS, WORDS, st.integers(0, 5))
def test_slips_agree_with_the_definition(first: str, second: str, limit: int):
    assert slips(first, second, limit) == min(_by_definition(first, second), limit + 1)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("centers", "centres"),
        ("form", "from"),
        ("countersunk", "countersink"),
        ("pvot", "pivot"),
        ("PIVOT", "pivot"),
        ("far far", "far-far"),
        ("thickness", "thick"),
        ("dril", "drill"),
        ("rond", "round"),
    ],
)
def test_common_slips_are_understood(typed: str, meant: str):
    words = [
        "centres",
        "from",
        "countersink",
        "counterbore",
        "pivot",
        "far-far",
        "thick",
        "drill",
        "round",
        "boss",
    ]
    assert nearest(typed, words)[0] == meant


def test_nothing_near_is_nothing():
    assert nearest("zzzzzz", ["pivot", "heel"]) == []
    assert nearest("q", ["a", "b"]) == []
    assert nearest("pivot", ["pivot"]) == []
    assert nearest("", ["a", ""]) == []


@given(st.lists(WORDS, max_size=12), WORDS, st.randoms(use_true_random=False))
def test_order_of_candidates_does_not_matter(words: list[str], typed: str, shuffler: random.Random):
    before = nearest(typed, words)
    shuffler.shuffle(words)
    assert nearest(typed, words) == before


def test_among_ten_thousand_names_the_near_ones_are_found():
    names = [f"name{number:05}" for number in range(10_000)] + ["name0" * 60]
    assert nearest("nmae00412", names)[0] == "name00412"
    assert nearest("x" * 100_000, names) == []
