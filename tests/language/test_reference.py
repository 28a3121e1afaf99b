"""The reference, the README, the starters and the examples say what the compiler does: every recipe in them
compiles.
"""

import re
from pathlib import Path

import makegood
import pytest
from makegood.language.shapes import Optional, Small, kinds

ROOT = Path(__file__).resolve().parents[2]
REFERENCE = (ROOT / "grammar" / "reference.md").read_text(encoding="utf-8")
BLOCK = re.compile(r"```mend\n(.*?)```", re.S)
EXAMPLES = sorted((ROOT / "examples").glob("*.mend"))
STARTERS = sorted((ROOT / "compiler" / "starters").glob("*.mend"))


def said(result):
    return [f"{d.span.line if d.span else 0} {d.code}: {d.headline}" for d in result.diagnostics]


@pytest.mark.parametrize("text", BLOCK.findall(REFERENCE), ids=lambda text: text.split('"')[1])
def test_examples_of_the_reference_compile_clean(text):
    result = makegood.compile_text(text)
    assert said(result) == []
    assert result.figures.watertight
    assert result.figures.pieces == 1


def small_words():
    """Every word of the table that stands as it is."""
    found = set()

    def gather(elements):
        for element in elements:
            if isinstance(element, Optional):
                gather(element.elements)
            elif isinstance(element, Small):
                found.update(word for words in element.words for word in words.split())

    for kind in kinds().values():
        for shape in kind.facts:
            gather(shape.elements)
    return found


def test_reference_names_every_kind_and_every_small_word():
    words = set(re.findall(r"[a-z]+(?:-[a-z]+)*", REFERENCE))
    assert set(kinds()) <= words
    assert small_words() - words <= {"m"}  # metres, beside `mm` and `cm`


def test_readme_recipe_is_the_example():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    block = BLOCK.search(readme)
    assert block is not None
    shown = makegood.compile_text(block.group(1))
    made = makegood.compile_file(ROOT / "examples" / "roof-vent-lever.mend")
    assert said(shown) == []
    assert shown.figures == made.figures


@pytest.mark.parametrize("path", [*EXAMPLES, *STARTERS], ids=lambda path: path.stem)
def test_examples_and_starters_compile_clean_and_are_tidy(path):
    result = makegood.compile_file(path)
    assert [one for one in result.diagnostics if one.severity.value != "note"] == []
    assert result.figures.watertight
    assert result.figures.pieces == 1
    text = path.read_text(encoding="utf-8")
    assert makegood.tidy_text(text)[0] == text
