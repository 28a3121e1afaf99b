"""Asks every question, in the order of this list; one file answers each.

What needs no part is asked of every recipe; what is read off the shape only of a part that was built.
Whether a name is used is asked only where nothing is wrong: a line that was not understood may be the one
that uses it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial

from .. import checks
from ..diagnostics.types import Diagnostic, Severity, Trouble
from ..imports.types import ImportedMesh
from ..kinds import own_file
from ..mesh.types import Part
from ..mesh.workshop import Workshop
from ..model import Body, Card, Model, Thing
from ..model.types import Prism
from ..outlines.marks import Marks
from .about import about_numbers
from .across_layers import across_layers
from .angle_senses import angle_senses
from .cautions import cautions
from .floors import thin_floors
from .holes_that_stay import holes_that_stay
from .hollows import closed_hollows
from .laid import hidden_sides
from .mouths import eaten_mouths
from .openings import FINE, PlaneOpenings, Survey
from .plastics import unknown_plastic
from .screws import other_screws
from .too_fine import too_fine_for_stl
from .trimmed_flats import trimmed_flats
from .unused import unused_names
from .walls import thin_walls
from .worn import copied_wear

_OF_HOLES: tuple[Callable[[Survey, PlaneOpenings], Iterable[Diagnostic]], ...] = (
    thin_walls,
    eaten_mouths,
    thin_floors,
)


def check_part(
    card: Card,
    model: Model | None,
    part: Part | None,
    meshes: Mapping[str, ImportedMesh] | None = None,
) -> tuple[Diagnostic, ...]:
    """All warnings and notes on a recipe and its part (None when there is none, as where errors were found
    before); `meshes`: the material of the bodies that come from files.
    """
    found = [*unknown_plastic(card), *cautions(card, part)]
    if part is None or model is None:
        return tuple(found)
    found += [*angle_senses(model), *unused_names(model), *about_numbers(model)]
    found += [*copied_wear(model), *other_screws(model)]
    found += [*hidden_sides(model), *closed_hollows(model, part), *too_fine_for_stl(part)]
    found += across_layers(model, part)
    if _may_snap(model):
        found += checks.snaps.strained(model, part)
    scene = Survey(model, Workshop(model, Marks(), FINE, meshes or {}))
    return (*found, *_of_shape(scene))


def _may_snap(model: Model) -> bool:
    """Whether the part has anything that may be a snap joint."""
    things = model.things.values()
    springs = (isinstance(thing, Prism) and thing.spring is not None for thing in things)
    return any(springs) or any(own_file(thing.noun, "snaps") is not None for thing in things)


def _of_shape(scene: Survey) -> Iterator[Diagnostic]:
    """What is asked of the holes of each body, of trimmed and copied bodies, and by the kinds of things."""
    for question in _OF_HOLES:
        for group in scene.groups():
            yield from _answers(partial(question, scene, group), group.body)
    for body in scene.model.of(Body):
        yield from _answers(partial(trimmed_flats, scene, body), body)
        yield from _answers(partial(holes_that_stay, scene, body), body)
    for thing in scene.model.things.values():
        own = own_file(thing.noun, "checks")
        if own is not None:
            yield from _answers(partial(own.ask, scene, thing), thing)


def _answers(question: Callable[[], Iterable[Diagnostic]], thing: Thing) -> Iterator[Diagnostic]:
    """What a question answers.  The part was built, so nothing can be wrong with the recipe: what is raised
    here is a fault of ours, told as one, and the other questions are answered."""
    try:
        yield from question()
    except Trouble as trouble:
        said = f"a check of {thing.noun} `{thing.name}` tripped, so it says nothing: {trouble}"
        advice = ("the fault is in the compiler, not in your recipe: please report it with the recipe",)
        yield Diagnostic("check-failed", Severity.WARNING, said, thing.span, advice=advice)
