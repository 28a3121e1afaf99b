"""Recipes measured back, as they are and with one thing in their model built other than it was said."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import makegood
from makegood.callipers import Taken, measure_back
from makegood.mesh import assemble
from makegood.model import Model, Size
from makegood.quantities import Quantity
from msgspec.structs import replace

Rows = dict[tuple[str, str], Taken]
"""What was found, by the leading words of a line (as many as tell it) and the slot."""


def compiled(text: str) -> Model:
    """The model of a recipe."""
    result = makegood.compile_text(text)
    assert result.part is not None, [one.headline for one in result.diagnostics]
    return result.made


def taken(model: Model) -> list[Taken]:
    """All that is found on the mesh of a model."""
    part, _ = assemble(model, 0.01, {})
    assert part is not None
    return list(measure_back(model, part))


def found(text: str, thing: str) -> dict[str, float | None]:
    """What is found of one thing of a recipe, by `line [slot]`; nothing in it may be wrong."""
    some = [row for row in taken(compiled(text)) if row.thing == thing]
    wrong = [f"{row.text} [{row.key}] {row.meant} is {row.found}" for row in some if row.wrong]
    assert not wrong, wrong
    return {f"{row.text} [{row.key}]": row.found for row in some}


def wrong_when(text: str, thing: str, change: Callable[[Any], Any]) -> set[str]:
    """The slots that are told wrong where a thing is built otherwise than it was said, by `word [slot]`."""
    model = compiled(text)
    other = change(model.things[thing])
    built = replace(model, things={**model.things, thing: other})
    return {f"{row.text.split()[0]} [{row.key}]" for row in taken(built) if row.thing == thing and row.wrong}


def larger(size: Size) -> Size:
    """A size as it would be made were it a tenth larger."""
    return replace(size, made=more(size.made))


def more(value: Quantity) -> Quantity:
    """A number a tenth larger."""
    return replace(value, value=1.1 * value.value)
