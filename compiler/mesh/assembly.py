"""The whole part: bodies with their zones and holes, copies, all joined; then the other hand and the shelf.

Bodies are joined in the order of their names, so the order of writing can't reach the mesh."""

from __future__ import annotations

from collections.abc import Mapping

from .. import mesh as mesh_room
from ..diagnostics.types import Diagnostic, Severity, Trouble
from ..imports.types import ImportedMesh
from ..model import Body, Model
from ..outlines.marks import Marks
from .answers import Answers
from .combine import join, pieces, without_specks
from .crowds import crowded, too_fine
from .filled_holes import Fillings
from .finish import finish, measure
from .kernel import Solid
from .making import Making
from .meeting import laid_together
from .overhanging import overhanging
from .swallowed import swallowed
from .touching_rounds import Seam, seams
from .types import Part
from .workshop import Workshop

MOST_COPIES_OF_BODIES = 2_000

Standing = list[tuple[str, Solid]]
"""Each body and copy (`peg`, `peg.2`) with its material in place."""


def assemble(
    model: Model,
    chord: float,
    meshes: Mapping[str, ImportedMesh],
    unmade: tuple[Diagnostic, ...] = (),
) -> tuple[Part | None, tuple[Diagnostic, ...]]:
    """The finished part of a recipe, and all that stands in its way.

    `chord`: greatest facet error in mm; `meshes`: the material of the bodies that come from files; `unmade`:
    what was answered already of things that the model lacks: then no part is made, but what is there is still
    tried, so that all faults come at once."""
    answers = Answers(model, unmade)
    shop = Workshop(model, Marks(), chord, meshes)
    part = None
    try:
        part = _part(Making(shop, answers))
    except Trouble as trouble:
        answers.say_of_all(trouble)
    return part, tuple(answers.found)


def _part(making: Making) -> Part | None:
    answers, bodies = making.answers, making.model.of(Body)
    if not bodies:
        if not answers.wrong:
            said = "the recipe makes nothing: it has no body"
            advice = ("add a plate, block, turning, strip or peg",)
            answers.add(Diagnostic("nothing-made", Severity.ERROR, said, advice=advice))
        return None
    for body in bodies:
        making.body(body)
    making.finish()
    part = None if answers.wrong else _joined(making, bodies)
    making.cutting.try_the_rest(part)
    return part


def _joined(making: Making, bodies: list[Body]) -> Part | None:
    answers, parts = making.answers, _in_place(making, bodies)
    if parts is None:
        return None
    parts = laid_together(parts)
    closed = seams(making.shop, parts) if len(parts) > 1 else []
    every = [*(solid for _, solid in parts), *(seam.tube for seam in closed)]
    whole = without_specks(join(every) if len(every) > 1 else every[0])
    if whole.is_empty():
        said = "nothing is left of the part: its holes take all of it"
        answers.add(Diagnostic("nothing-left", Severity.ERROR, said, bodies[0].span))
        return None
    found = pieces(whole)
    if len(found) > 1:
        answers.add(mesh_room.apart.fallen(making.shop, found, parts))
        return None
    _look(making, parts, whole, closed)
    return _finished(making, whole)


def _in_place(making: Making, bodies: list[Body]) -> Standing | None:
    """All bodies and copies; None, with the reason kept, where they are too many."""
    parts: Standing = []
    for body in bodies:
        name, solid, moves = body.name, making.built[body.name], body.copies
        if len(moves) > MOST_COPIES_OF_BODIES:
            said = f"`{name}` would be copied {len(moves)} times; {MOST_COPIES_OF_BODIES} bodies are the most"
            making.answers.add(Diagnostic("bad-count", Severity.ERROR, said, body.span))
            return None
        who = (name, body.span, solid)
        if making.answers.add(crowded(*who, moves) or too_fine(*who, len(moves))):
            return None
        copies = enumerate(making.copies(body), start=2)
        parts += [(name, solid), *((f"{name}.{k}", one) for k, one in copies)]
    return parts


def _look(making: Making, parts: Standing, whole: Solid, closed: list[Seam]) -> None:
    """What is said of a part that is in one piece."""
    if len(parts) > 1:
        one_round = frozenset((seam.hole, seam.body) for seam in closed)
        fillings = Fillings(making.shop, making.built, parts, one_round)
        cuts = [*making.cutting.cuts, *fillings.met(making.cutting.let_in)]
        making.answers.add(*fillings.told(cuts, whole))
    making.answers.add(*making.buried(parts))
    making.answers.add(*swallowed(making.model, making.built), *overhanging(making.shop, making.built))


def _finished(making: Making, whole: Solid) -> Part:
    mirrored = making.model.card.mirrored
    if mirrored:
        whole = whole.mirror((1.0, 0.0, 0.0))
    low = whole.bounding_box()[:3]
    mesh = finish(whole.translate((-low[0], -low[1], -low[2])))
    return Part(mesh, measure(mesh), tuple(making.shop.marks.faces), mirrored, (low[0], low[1], low[2]))


__all__ = ["assemble"]
