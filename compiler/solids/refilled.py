"""Which holes another body fills again or closes.  Used parts' own recipes can't know what they are joined to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ..diagnostics.types import Diagnostic, Label, Severity
from ..facts import Claims, Entry
from ..positions.layout import Frame, clean
from .bodies import Bodies
from .combine import overlap, trim
from .kernel import Solid

SLIVER = 1e-3  # mm3
MOST = 100
SHUT = 0.99
"""A hole is closed where a body covers this share of its mouth."""


def in_the_way(claims: Claims, hole: Entry, name: str, own: Iterable[str]) -> Diagnostic:
    """The warning for a hole that a body which it does not cut reaches into."""
    said = f"`{name}` fills part of {hole.kind} `{hole.name}`"
    advice = (f"through {', '.join(sorted({*own, name}))}   cuts both; or move one of the two",)
    others = (Label(claims.entries[name].span, "this is in the way"),)
    return Diagnostic("hole-filled", Severity.WARNING, said, hole.span, others=others, advice=advice)


def mouths(tools: Iterable[Solid], own: Iterable[tuple[float, float]], frame: Frame) -> list[Solid]:
    """What each tool of a hole cuts below and above its bodies, whose lowest and highest heights over its page are `own`."""
    heights = list(own)
    x, y, z = frame.out
    low = frame.point((0.0, 0.0), min(one[0] for one in heights))
    high = frame.point((0.0, 0.0), max(one[1] for one in heights))
    ends = ((low, (x, y, z)), (high, clean((-x, -y, -z))))
    return [trim(tool, at, way, 0) for tool in tools for at, way in ends]


def closed(
    claims: Claims, hole: Entry, found: Iterable[Solid], own: Iterable[str], name: str, solid: Solid
) -> Diagnostic | None:
    """A note where a hole right through its `own` bodies ends at another that covers one of its mouths."""
    if all(one.volume() <= SLIVER or overlap(one, solid) < SHUT * one.volume() for one in found):
        return None
    said = f"{hole.kind} `{hole.name}` is closed at one end by `{name}`, which it does not go through"
    advice = (f"through {', '.join(sorted({*own, name}))}   cuts both; if it is to end there, say how deep it is",)
    others = (Label(claims.entries[name].span, "this closes it"),)
    return Diagnostic("hole-closed", Severity.NOTE, said, hole.span, others=others, advice=advice)


def refilled(claims: Claims, bodies: Bodies, built: Mapping[str, Solid]) -> list[Diagnostic]:
    """A warning for each hole of a used part that a body of this recipe reaches into."""
    found: list[Diagnostic] = []
    for name in [one for one in sorted(claims.stock) if claims.stock[one].hollows and one in built][:MOST]:
        for hole, solid in bodies.hollows(name)[:MOST]:
            for other in sorted(built):
                if other == name or overlap(solid, built[other]) <= SLIVER:
                    continue
                said = f"`{other}` fills part of `{hole}` of `{name}`"
                advice = (f"bore it again through both: around {name}.{hole}, through {other}", "or move one of the two")
                others = (Label(claims.entries[other].span, "this is in the way"),)
                found.append(Diagnostic("hole-filled", Severity.WARNING, said, claims.entries[name].span, others=others,
                                        advice=advice))  # fmt: skip
    return found
