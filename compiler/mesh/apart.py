"""Why a part falls into pieces: which body or copy stands alone, and what cut one apart - a hole, a trim, a
zone, a mark.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..diagnostics.types import Diagnostic, Severity
from ..kinds.block.model import Block
from ..model.brought import Brought
from ..model.holes import Hole
from ..model.types import Body, Prism
from ..model.zones import Zone
from .combine import overlap, touches
from .kernel import Solid
from .nearest import NearestPair, nearest_pair
from .workshop import Workshop

SLIVER = 1e-3  # mm3
MOST = 5
JOINS = "bodies join where they touch or overlap: "
LESS = "move it, make it less high, or say less"
LARGER = "trim keeps the larger part: make the body longer on the side that is to stay"


def fallen(shop: Workshop, found: Sequence[Solid], parts: Sequence[tuple[str, Solid]]) -> Diagnostic:
    """The error for a part in several pieces.  `parts`: each body and copy (`peg`, `peg.2`) with its material
    in place.
    """
    homes = [{name for name, solid in parts if overlap(solid, piece) > SLIVER} for piece in found]
    main = max(range(len(found)), key=lambda i: (found[i].volume(), -i))
    alone: set[str] = set()
    told: list[tuple[str, str, str]] = []
    for i, home in enumerate(homes):
        if i != main and home & homes[main]:
            told.append(_cut(shop, found[i], min(home & homes[main])))
        elif i != main:
            alone |= home
    gap = nearest_pair(found, homes, parts)
    name, why, last = told[0] if told else (parts[0][0], f"`{parts[0][0]}` is not joined to the rest", "")
    if alone:
        name, why, last = _alone(shop, alone, [name for name, _ in parts], found, homes)
    last = last or JOINS + _would_join(shop, gap, alone)
    said = f"the part falls into {len(found)} pieces: {why}"
    advice = (last,) if last == LESS else (gap.words(), last)
    return Diagnostic("falls-apart", Severity.ERROR, said, shop.model.things[name].span, advice=advice)


def _would_join(shop: Workshop, gap: NearestPair, alone: set[str]) -> str:
    """What would make one of two pieces: never a hole made smaller where there is none."""
    if any("." in name for name in alone):
        ways = ["count fewer copies", "bring them closer"]
    else:
        ways = ["move one", "make one larger"]
        if _met_before(shop, *sorted({_body(gap.first), _body(gap.second)})):
            ways.append("make a hole smaller")
    return f"{', '.join(ways[:-1])} or {ways[-1]}"


def _met_before(shop: Workshop, one: str, other: str = "") -> bool:
    """True where two bodies would touch but for their holes."""
    held = {name for hole in shop.model.of(Hole) for name in hole.owners} & {one, other}
    return bool(other and held) and touches(shop.solid(one), shop.solid(other))


def _alone(
    shop: Workshop, alone: set[str], names: Sequence[str], found: Sequence[Solid], homes: Sequence[set[str]]
) -> tuple[str, str, str]:
    """What is said of bodies and copies of which nothing is joined to the largest piece: whose line, words,
    what would do.
    """
    some = {_body(name) for name in alone}
    whole = {one for one in some if all(name in alone for name in names if _body(name) == one)}
    listed = sorted({one if (one := _body(name)) in whole else _copy(name) for name in alone}, key=_by_number)
    shown = ", ".join(f"`{name}`" for name in listed[:MOST]) + (
        f" and {len(listed) - MOST} more" if len(listed) > MOST else ""
    )
    says = f"{shown} {'is' if len(listed) == 1 else 'are'} not joined to the rest"
    for body in (shop.model.body(name) for name in names if "." not in name):
        if body.trims and _held_before(shop, body, found, homes):
            cut = body.trims[0].said.text
            says += f": `{cut}` keeps the larger part of `{body.name}`, and what it cuts off held them"
            return body.name, says, LARGER
    return _body(listed[0]), says, ""


def _held_before(shop: Workshop, body: Body, found: Sequence[Solid], homes: Sequence[set[str]]) -> bool:
    """True where a body that was not trimmed would touch a piece that it has nothing of now."""
    bare = shop.solid(body.name)
    return any(
        body.name not in home and touches(bare, piece) for piece, home in zip(found, homes, strict=True)
    )


def _cut(shop: Workshop, piece: Solid, name: str) -> tuple[str, str, str]:
    """What is said of a piece of a body that is joined elsewhere: by what it came off."""
    things, body = shop.model.things, _body(name)
    faces = [shop.marks.faces[label] for label in sorted(set(np.asarray(piece.to_mesh64().face_id).tolist()))]
    by = [things[statement] for statement, _ in faces if statement in things]
    marks = [one for one in by if one.lettered]
    if marks and len(marks) == len(by):
        says = f"a part of mark `{marks[0].name}` stands beside `{body}`, with nothing below it"
        return marks[0].name, says, LESS
    if any(isinstance(one, Hole) for one in by):
        return body, f"`{body}` is cut apart by its holes", "move a hole, or make it smaller"
    if (body, "trim") in faces:
        return body, f"`{body}` is cut apart by its trim", "trim on another side, or make the body larger"
    zones = [one for one in by if isinstance(one, Zone)]
    if zones:
        return body, f"`{body}` is cut apart at zone `{zones[0].name}`", "make the zone smaller, or less deep"
    return body, f"`{body}` itself is in pieces", _whole(shop.model.body(body))


def _whole(body: Body) -> str:
    if isinstance(body, Brought):
        return "its mesh has pieces that do not touch: join them with a block or a plate"
    if isinstance(body, Prism) and not isinstance(body, Block):
        return "check its outline and what it is shrunk by"
    return "check what is cut into it: teeth, flats and grooves that meet leave nothing between"


def _body(name: str) -> str:
    return name.split(".")[0]


def _copy(name: str) -> str:
    """A copy as a recipe calls it: the thing itself is the first."""
    return name if "." in name else f"{name}.1"


def _by_number(name: str) -> tuple[str, int]:
    body, _, number = name.partition(".")
    return body, int(number or 0)
