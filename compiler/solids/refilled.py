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


def closed(
    claims: Claims, hole: Entry, tool: Solid, own: Mapping[str, tuple[float, float]], frame: Frame, name: str, solid: Solid
) -> list[Diagnostic]:
    """A note where a hole right through its `own` bodies ends at another that covers its mouth.

    Of its own bodies the lowest and highest height over its page, whose frame is given.
    """
    x, y, z = frame.out
    low = frame.point((0.0, 0.0), min(one[0] for one in own.values()))
    high = frame.point((0.0, 0.0), max(one[1] for one in own.values()))
    mouths = [trim(tool, low, (x, y, z), 0), trim(tool, high, clean((-x, -y, -z)), 0)]
    if all(one.volume() <= SLIVER or overlap(one, solid) < SHUT * one.volume() for one in mouths):
        return []
    said = f"{hole.kind} `{hole.name}` is closed at one end by `{name}`, which it does not go through"
    advice = (f"through {', '.join(sorted({*own, name}))}   cuts both; if it is to end there, say how deep it is",)
    others = (Label(claims.entries[name].span, "this closes it"),)
    return [Diagnostic("hole-closed", Severity.NOTE, said, hole.span, others=others, advice=advice)]



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
