"""What the folder of a kind says of a thing of it on paper: its `notes.py` holds any of

- `notes(scene, thing)`: what is written at it (`Note`),
- `sizes(scene, thing)`: which distances are dimensioned (`Dimension`),
- `checks(scene, thing)`: what is measured on the printed part (`Check`),
- `circles(scene, thing)`: the pitch circles of a pattern (`PitchCircle`).

Views, edges and the outer sizes come from the mesh alone, so a kind without the file is drawn too."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar, cast

from ...kinds import own_file
from ...model import Thing
from . import shapes
from .types import Check, Dimension, Note, PitchCircle
from .views import Scene

Told = TypeVar("Told", Note, Dimension, Check, PitchCircle)


def notes_of(scene: Scene, thing: Thing) -> Iterator[Note]:
    """What is written at a thing."""
    return _asked(Note, "notes", scene, thing)


def sizes_of(scene: Scene, thing: Thing) -> Iterator[Dimension]:
    """Which of its distances are dimensioned."""
    return _asked(Dimension, "sizes", scene, thing)


def checks_of(scene: Scene, thing: Thing) -> Iterator[Check]:
    """What is measured of it on the printed part."""
    return _asked(Check, "checks", scene, thing)


def circles_of(scene: Scene, thing: Thing) -> Iterator[PitchCircle]:
    """The pitch circles of a pattern."""
    return _asked(PitchCircle, "circles", scene, thing)


def _asked(_: type[Told], question: str, scene: Scene, thing: Thing) -> Iterator[Told]:
    own = own_file(thing.noun, "notes")
    answer = getattr(shapes if own is None else own, question, None)
    return (
        iter(()) if answer is None else cast(Callable[[Scene, Thing], Iterator[Told]], answer)(scene, thing)
    )
