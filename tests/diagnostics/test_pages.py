"""The pages behind the codes: every one has its sections, and a wrong one is noticed."""

from __future__ import annotations

import pytest
from makegood.diagnostics import NoSuchPage, PageFormat, codes, page, read_page
from makegood.diagnostics.pages import parse_page

GOOD = """\
# A lid without a rim

## What happened

It has none.

Two paragraphs are fine.

## Why it matters

It falls in.

## Example

```mend
recipe "lid"

round rim
    across 40.0
```

## Mended

```mend
recipe "lid"
```
"""


def test_a_page_is_taken_apart():
    taken = parse_page("no-rim", GOOD)
    assert taken.code == "no-rim"
    assert taken.headline == "A lid without a rim"
    assert taken.what == "It has none.\n\nTwo paragraphs are fine."
    assert taken.why == "It falls in."
    assert taken.example == 'recipe "lid"\n\nround rim\n    across 40.0\n'
    assert taken.mended == 'recipe "lid"\n'


@pytest.mark.parametrize(
    ("was", "becomes"),
    [
        ("# A lid without a rim\n", ""),
        ("## Why it matters", "## Why"),
        ("It falls in.", ""),
        ('```mend\nrecipe "lid"\n```\n', "words, no recipe\n"),
        ("## Mended", "## Mended\n\nMore words."),
        ("## Example", "## Mended"),
        ('```mend\nrecipe "lid"\n\n', '```\nrecipe "lid"\n\n'),
    ],
)
def test_a_page_that_lacks_something_is_refused(was: str, becomes: str):
    assert was in GOOD
    with pytest.raises(PageFormat, match="no-rim"):
        parse_page("no-rim", GOOD.replace(was, becomes))


def test_every_page_there_is_has_its_form():
    assert "two-places" in codes()
    for code in codes():
        assert read_page(code).example != read_page(code).mended
        assert page(code).startswith(f"# {read_page(code).headline}\n")
    assert list(codes()) == sorted(codes())


def test_an_unknown_code_is_answered():
    with pytest.raises(NoSuchPage, match="did you mean two-places") as caught:
        page("two-place")
    assert caught.value.near == ("two-places",)
    with pytest.raises(NoSuchPage, match="no message has the code"):
        page("../../pyproject")
