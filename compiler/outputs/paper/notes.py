"""Notes of a drawing: what a hole, a round, an edge or a small body is, at the end of a leader."""

from __future__ import annotations

from msgspec.structs import replace

from ...quantities.vectors import Vector
from .slices import circles_of, notes_of
from .sloping import slope_notes
from .types import Note, PitchCircle
from .views import Scene


def notes(scene: Scene) -> list[Note]:
    """Every note of a part; what several things say alike stands once, with all their names."""
    found = [note for thing in scene.model.things.values() for note in notes_of(scene, thing) if note.text]
    found += [circle.note() for circle in pitch_circles(scene) if circle.text]
    found += slope_notes(scene)
    alike: dict[tuple[str, Vector], list[Note]] = {}
    for note in found:
        if not note.radius and note.text.startswith(note.name):
            some = alike.setdefault((note.text[len(note.name) :], note.face), [])
            # one thing may say the same of two of its edges
            if all(note.name != other.name for other in some):
                some.append(note)
    spared = {id(note) for some in alike.values() for note in some[1:]}
    named = {id(some[0]): ", ".join(note.name for note in some) + text for (text, _), some in alike.items()}
    return [
        replace(note, text=named[id(note)]) if id(note) in named else note
        for note in found
        if id(note) not in spared
    ]


def pitch_circles(scene: Scene) -> list[PitchCircle]:
    """The pitch circles of the patterns of a part."""
    return [circle for thing in scene.model.things.values() for circle in circles_of(scene, thing)]
