"""Holes, marks and arms measured back: what was said is found, what is built otherwise is told."""

from __future__ import annotations

import makegood
import pytest
from makegood.callipers import measure_back
from makegood.mesh import assemble
from msgspec.structs import replace

LID = """recipe "tea caddy lid"

block lid
    long 80.0
    wide 60.0
    thick 6.0

"""
SLOT = """slot way
    drill 5.0 not 5.1
    long 13.0
    turned 30
    deep 3.0 from lid.front
    counterbore 8 deep 1 at front
    at -20, 10 from lid
"""
NOTCH = """notch way
    long 9.0
    wide 6.0
    deep 2.5 from lid.front
    round inside 1.5
    turned 25
    at 10, 10 from lid
"""
BORE = """bore way
    turns on 6.0
    flats 5.0 facing right
    turned 15
    countersink 9.0 at front
    at 10, -10 from lid
"""
MARK = """mark way
    on lid.back
    says "KEY 2"
    high 5.0
    sunk 0.5
    turned 20
    from lid.left near 8.0
    from lid.bottom near 6.0
"""
ARM = """arm way
    on lid.back
    long 10.5
    wide 5.0
    thick 1.6
    tip 0.9
    nose 0.6 facing top
    lead 25
    return 45
    fillet 0.6
    from lid.left near 14.0
    from lid.top near 8.0
"""


@pytest.mark.parametrize("text", [SLOT, NOTCH, BORE, MARK, ARM])
def test_every_number_is_found_as_it_was_said(text: str) -> None:
    result = makegood.compile_text(LID + text, "lid.mend")
    rows = [row for row in result.taken if row.thing == "way" and row.key != "mate"]
    assert rows
    assert all(row.found is not None and not row.wrong for row in rows), rows


@pytest.mark.parametrize(
    ("text", "field", "word"),
    [
        (SLOT, "depth", "deep"),
        (NOTCH, "depth", "deep"),
        (MARK, "tall", "high"),
        (MARK, "sunk", "sunk"),
    ],
)
def test_what_is_built_larger_by_a_tenth_is_told(text: str, field: str, word: str) -> None:
    result = makegood.compile_text(LID + text, "lid.mend")
    assert result.made is not None
    thing = result.made.things["way"]
    size = getattr(thing, field)
    inner = size.size if field == "depth" else size
    larger = replace(inner, made=replace(inner.made, value=1.1 * inner.made.value))
    built = replace(thing, **{field: replace(size, size=larger) if field == "depth" else larger})
    model = replace(result.made, things={**result.made.things, "way": built})
    part, _ = assemble(model, 0.01, {}, ())
    assert part is not None
    wrong = {row.text.split()[0] for row in measure_back(model, part) if row.wrong}
    assert wrong == {word}
