"""Where on a page something is, in the writer's own terms: coordinates of the solver mean nothing to them."""

from __future__ import annotations

import math

from ..diagnostics.types import Span, Trouble
from ..facts import Claims, Entry
from ..places.layout import Layout
from ..places.planes import Pages
from ..quantities.vectors import XY

SAME = 0.005


def in_words(trouble: Trouble, entry: Entry, pages: Pages, layout: Layout) -> str:
    """What a trouble says, each of its places told from the nearest named thing on the page of the
    statement.
    """
    if not trouble.places:
        return trouble.says
    page = pages.stand(entry.name)[0]
    named = sorted((name, spot.at) for name, spot in layout.spots.items() if spot.page == page)
    if not named:
        return str(trouble)
    return trouble.told(lambda at: _from(at, *min(named, key=lambda one: (math.dist(one[1], at), one[0]))))


def blamed(trouble: Trouble, claims: Claims) -> tuple[Span | None, tuple[str, ...]]:
    """The line that a trouble of the whole part belongs to, and what would do: what it names, else a mesh
    brought in.
    """
    named = [claims.entries[one] for one in trouble.names if one in claims.entries]
    if named or trouble.code != "bad-solid":
        return named[0].span if named else None, trouble.advice
    blanks = claims.of_kind("blank")
    if not blanks:
        return None, trouble.advice
    return blanks[0].span, (
        *trouble.advice,
        f"does the mesh of `{blanks[0].name}` cross itself? mend it where it comes from",
    )


def _from(at: XY, name: str, thing: XY) -> str:
    """`1.20 right of and 3.00 above `tip``."""
    across, up = at[0] - thing[0], at[1] - thing[1]
    words = [f"{abs(across):.2f} {'right' if across > 0 else 'left'} of"] if abs(across) > SAME else []
    words += [f"{abs(up):.2f} {'above' if up > 0 else 'below'}"] if abs(up) > SAME else []
    return f"{' and '.join(words)} `{name}`" if words else f"`{name}`"
