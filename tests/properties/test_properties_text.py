"""Every shape of the table at random: text -> tree -> text -> tree says the same, and the tidy layout loses
nothing.
"""

from __future__ import annotations

from random import Random

import makegood
from hypothesis import given, note
from hypothesis import strategies as st
from makegood.language import kinds
from makegood.source import read_text
from makegood.source.reading import read_text as rows_of
from makegood.tree import Tree, parse_rows, tree_text

from . import recipes, words

SEEDS = st.integers(0, 2**48)


def tree_of(text: str) -> Tree:
    source, found = read_text(text, "words.mend")
    tree, _, unparsed = parse_rows(source)
    assert not [one.headline for one in (*found, *unparsed)], text
    return tree


def comments_of(text: str) -> list[str]:
    source, _ = rows_of(text, "words.mend")
    return [comment for row in source.rows for comment in row.comments]


@given(SEEDS)
def test_every_shape_is_read_and_written_again_as_the_same_tree(seed: int) -> None:
    tree = tree_of(words.recipe(Random(seed)))
    again = tree_text(tree)
    assert tree_of(again) == tree
    assert tree_text(tree_of(again)) == again


@given(SEEDS)
def test_tidy_keeps_the_tree_and_every_comment_and_changes_nothing_twice(seed: int) -> None:
    text = words.recipe(Random(seed))
    tidied, found = makegood.tidy_text(text)
    assert tidied is not None, found
    note(text)
    note(tidied)
    assert tree_of(tidied) == tree_of(text)
    assert comments_of(tidied) == comments_of(text)
    assert makegood.tidy_text(tidied)[0] == tidied


@given(SEEDS)
def test_tidy_leaves_the_part_alone(seed: int) -> None:
    rnd = Random(seed)
    text = recipes.recipe(rnd).text(rnd)
    tidied, _ = makegood.tidy_text(text)
    assert tidied is not None
    assert tree_of(tidied) == tree_of(text)


def test_the_generator_meets_every_shape_of_the_table() -> None:
    """Not vacuous: each fact shape of each kind can be drawn, and its line is read as a fact of that shape's
    words.
    """
    rnd = Random(7)
    for kind in kinds().values():
        for shape in kind.facts:
            text = f"{words.line(kind.head, rnd)}\n    {words.line(shape, rnd)}\n"
            (statement,) = tree_of(text).statements
            assert len(statement.facts) == 1, text
