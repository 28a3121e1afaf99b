"""Is there a hollow in the part that is closed all round, and was it meant?

Nothing can be taken out of such a hollow, no pin goes into it, and nobody sees it on the finished part:
mostly a hole runs in from the end of a body that another one covers.  A float says `hollows 1`."""

from __future__ import annotations

import numpy as np

from ..diagnostics.types import Diagnostic, Severity, Span
from ..mesh.finish import shells
from ..mesh.types import Part
from ..model import Model
from ..model.brought import Brought
from ..model.holes import Hole
from ..quantities.arrays import Floats, Longs
from ..quantities.rows import distinct_rows


def closed_hollows(model: Model, part: Part) -> list[Diagnostic]:
    """An error where the part has other than as many closed hollows as the recipe says (unsaid: none); those
    that came in a file count, but are not asked for.
    """
    meant, said = model.card.hollows, model.card.hollows_said
    if not part.figures.hollows and not meant:
        return []
    found = _hollows(part)
    walls = [(one, _names(part, one)) for one in found]
    own = [one for one, names in walls if not _told_elsewhere(model, names)]
    if meant in (len(found), len(own)):
        return []
    if said is not None and not own:
        text = f"`{said.text}`, but the part has no hollow that is closed all round"
        return [Diagnostic("closed-hollow", Severity.ERROR, text, said.span, advice=("leave the line out",))]
    at = said.span if said is not None else None
    return [_told(model, part, one, len(found), at) for one in own[:1]]


def _told_elsewhere(model: Model, names: list[str]) -> bool:
    """A hollow that came in a file is not asked for; one of letters that something lies on is told there."""
    things = [model.things.get(name) for name in names]
    return all(isinstance(thing, Brought) for thing in things) or any(
        thing is not None and thing.lettered for thing in things
    )


def _hollows(part: Part) -> list[Longs]:
    """The triangles of each closed hollow, by where it lies."""
    mesh = part.mesh
    shell = shells(len(mesh.points), mesh.triangles)[mesh.triangles[:, 0]]
    a, b, c = (mesh.points[mesh.triangles[:, k]] for k in range(3))
    sixfold = np.einsum("ij,ij->i", a, np.cross(b - a, c - a))
    volumes = np.bincount(shell, weights=sixfold)
    numbers = distinct_rows(shell[:, None].astype(np.float64))[0][:, 0].astype(np.int64)
    return [np.flatnonzero(shell == one) for one in numbers.tolist() if volumes[one] < 0]


def _names(part: Part, triangles: Longs) -> list[str]:
    """The statements that made the walls of a hollow, the one with most of the surface first."""
    corners: Floats = part.mesh.points[part.mesh.triangles[triangles]]
    area = np.sqrt((np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) ** 2).sum(axis=1))
    shares: dict[str, float] = {}
    for label, much in zip(part.mesh.labels[triangles].tolist(), area.tolist(), strict=True):
        if label >= 0:
            name = part.faces[label][0]
            shares[name] = shares.get(name, 0.0) + much
    return sorted(shares, key=lambda name: (-round(shares[name], 6), name))


def _told(model: Model, part: Part, triangles: Longs, count: int, at: Span | None) -> Diagnostic:
    things = [model.things[name] for name in _names(part, triangles) if name in model.things]
    holes = [thing for thing in things if isinstance(thing, Hole)]
    walls = [thing for thing in things if not isinstance(thing, Hole)]
    corners = part.mesh.points[part.mesh.triangles[triangles]]
    volume = -np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])) / 6.0
    around = " and ".join(f"`{one.name}`" for one in walls[:3])
    meant = f"if it is meant, say so below the recipe's name:  hollows {count}"
    if holes:
        said = f"{holes[0].noun} `{holes[0].name}` is closed all round{f' by {around}' if around else ''}"
        said += f": a hollow of {volume:.4g} mm3 that nothing comes into"
        advice = (_open(holes[0]), meant)
        return Diagnostic("closed-hollow", Severity.ERROR, said, at or holes[0].span, advice=advice)
    closes = "closes" if len(walls) == 1 else "close"
    said = f"{around} {closes} a hollow of {volume:.4g} mm3 all round: nothing comes into it or out"
    first = walls[0].span if walls else None
    return Diagnostic(
        "closed-hollow", Severity.ERROR, said, at or first, advice=("leave it open at a side", meant)
    )


def _open(hole: Hole) -> str:
    if hole.depth is None:
        return "let it go through the body that closes it, too:  through all"
    part = hole.depth.of.part if hole.depth.of is not None else ""
    other = {"front": "back", "back": "front"}.get(part, "")
    free = f": its depth from `{other}` instead of `{part}`" if other else ""
    return f"let it begin at an end that stays free{free}, or go through what covers it:  through all"
