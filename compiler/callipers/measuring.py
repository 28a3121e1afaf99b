"""Everything that was read or wanted, taken again from the finished mesh.

A kind takes its own sizes (`callipers.py` in its folder); places are taken the same way for all.  A number
that nothing takes is a row too, with the reason: nothing is passed over in silence."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from ..kinds import own_file
from ..mesh.types import Part
from ..model import Body, Model, Thing
from ..model.things import Let, Neighbour
from .bench import Bench
from .flat_things import flat_sizes
from .place_readings import place_readings
from .prisms import TRIMMED
from .taking import sized
from .types import Taken

BESIDE = "it was read beside the part, not on it"
NOT_YET = "no calliper of this tool reaches it"
TRIPPED = "the calliper for it tripped: please report it with the recipe"
_TRIPPED = (ArithmeticError, AssertionError, AttributeError, LookupError, TypeError, ValueError)


def measure_back(model: Model, part: Part) -> tuple[Taken, ...]:
    """Every number of a recipe against the mesh of its part, in the order of names and lines."""
    bench = Bench(model, part)
    return tuple(row for thing in model.things.values() for row in _rows(bench, thing))


def _rows(bench: Bench, thing: Thing) -> Iterator[Taken]:
    why = BESIDE if isinstance(thing, Neighbour | Let) else NOT_YET
    try:
        taken = list(_taken(bench, thing))
    except _TRIPPED:
        # the part itself is whole: a fault of a calliper must not keep it from its owner
        taken, why = [], TRIPPED
    done = {(row.span, row.key) for row in taken}
    for number in thing.numbers:
        if (number.size.said.span, number.key) not in done:
            taken.append(sized(thing, number, None, why))
    if isinstance(thing, Body) and thing.trims:
        taken = [replace(row, found=None, why=TRIMMED) if row.wrong else row for row in taken]
    # by their text: the order of lines in the recipe says nothing
    yield from sorted(taken, key=lambda row: (row.text, row.key))


def _taken(bench: Bench, thing: Thing) -> Iterator[Taken]:
    yield from place_readings(bench, thing)
    own = own_file(thing.noun, "callipers")
    yield from flat_sizes(bench, thing) if own is None else own.measures(bench, thing)
