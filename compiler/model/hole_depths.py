"""Which bodies holes cut, how deep they go in them, and their mouths.  Lengths in mm."""

from __future__ import annotations

import itertools
import math

from ..diagnostics.types import Trouble, at_fault
from ..facts import Entry, Ref
from ..facts.extents import across
from ..facts.pockets import MOUTHS, pocket_name
from .builder import Builder, said_of, size_of
from .card import mention
from .taking import Facts
from .things import names_a_body
from .types import Depth, Mention, Mouth

SAME = 0.05  # mm: two readings of one length by callipers


def owners_of(builder: Builder, entry: Entry) -> tuple[str, ...]:
    """The bodies a hole cuts: those it goes `through`, else the body whose flat it is on or deep from, else
    the body it is around, else the only body, else the one whose sides it is read from, else the only one of
    its plane.  Raises Trouble('which-body')."""
    through = entry.one("through")
    if through is not None:
        names = [ref.name for ref in through.refs("things")]
        return tuple(builder.bodies) if "" in names else tuple(sorted(set(names)))
    of_flat = _of_flat(builder, entry)
    if of_flat:
        return (of_flat,)
    around = entry.one("around")
    if around is not None and names_a_body(builder, around.ref("thing")):
        return (around.ref("thing").name,)
    if len(builder.bodies) == 1:
        return tuple(builder.bodies)
    read_from = _read_from(builder, entry)
    if len(read_from) == 1:
        return tuple(read_from)
    plane = builder.layout.spots[entry.name].plane
    here = [name for name in builder.bodies if builder.planes.stand(name)[0] == plane]
    if len(here) == 1:
        return tuple(here)
    some = here or builder.bodies
    raise Trouble(
        "which-body",
        f"{entry.kind} `{entry.name}` could go through several bodies: " + ", ".join(some),
        (entry.name,),
        advice=(f"through {some[0]}" if some else "make a body first", "through all"),
    )


def _of_flat(builder: Builder, entry: Entry) -> str:
    """The body whose flat a hole is on, or its depth or mouth is counted from; '' where there is none."""
    for claim in (*entry.all("deep"), *entry.all("on"), *entry.all(*MOUTHS)):
        for key in ("thing", "other"):
            ref = claim.get(key)
            if isinstance(ref, Ref) and ref.name and names_a_body(builder, ref):
                return ref.name
    return ""


def _read_from(builder: Builder, entry: Entry) -> set[str]:
    """The bodies whose sides a hole's place is read from."""
    found = set()
    for claim in entry.all("from", "midway", "flush with"):
        for key in ("thing", "first", "second"):
            ref = claim.get(key)
            if isinstance(ref, Ref) and ref.part and names_a_body(builder, ref):
                found.add(ref.name)
    return found


def depth_of(builder: Builder, facts: Facts, own: tuple[str, ...], on: Mention | None) -> Depth | None:
    """How deep a hole goes that is `on` a flat or none.  Raises Trouble: 'which-flat', 'not-parallel'."""
    claim = facts.one("deep")
    if claim is None:
        return None
    ref = claim.get("thing")
    if not isinstance(ref, Ref):
        if on is None:
            raise Trouble(
                "which-flat",
                f"`{facts.name}` does not say from which flat its depth is counted",
                (facts.name,),
                advice=("deep 4.0 from front   or   put it on a flat: on body.front",),
                span=claim.span,
            )
        ref = None
    with at_fault(claim.span):
        start, out, flat, bare = _start(builder, facts.name, ref, own)
    of = None if ref is None else mention(ref)
    from_plane = _is_plane(ref, on)
    return Depth(size_of(claim), start, out, flat, bare, said_of(claim), from_plane, of)


def _start(
    builder: Builder, name: str, ref: Ref | None, own: tuple[str, ...]
) -> tuple[float, int, str, bool]:
    """Height over the hole's plane and direction of the flat that a depth is counted from, its name, and
    whether it was named without its body."""
    spot = builder.layout.spots[name]
    if ref is None:
        return spot.base, spot.out, "", False
    bare = not ref.name
    if bare:
        ref = Ref(own[0], ref.part, ref.span)
    height = builder.planes.height_of(ref, spot.plane)
    return height, 1 if builder.planes.faces_out(ref, spot.plane) else -1, str(ref), bare


def ask_depth(builder: Builder, entry: Entry, own: tuple[str, ...], depth: Depth) -> None:
    """Raise Trouble('facts-disagree') for a hole that goes `through` a body and ends inside it.

    Where its flats tell the body, `through` says nothing else; else it says which bodies are cut."""
    through = entry.one("through")
    if through is None or own != (_of_flat(builder, entry),):
        return
    reach = _reach(builder, own[0], builder.layout.spots[entry.name].plane)
    if reach is None:
        return
    bottom = depth.start - depth.out * depth.size.value
    floor = bottom - reach[0] if depth.out > 0 else reach[1] - bottom
    if floor > max(SAME, math.sqrt(3) * depth.size.made.u):
        raise Trouble(
            "facts-disagree",
            f"{entry.kind} `{entry.name}` goes `{through.text}`, but `{depth.said.text}` ends {floor:.4g} "
            f"before its other side",
            (entry.name,),
            advice=("for a hole that ends inside leave `through` out, for one that goes through `deep`",),
            span=depth.said.span,
        )


def _reach(builder: Builder, body: str, plane: str) -> tuple[float, float] | None:
    """Lowest and highest height of a body over a plane, by its box; None where that does not tell."""
    own, spot = builder.planes.stand(body)[0], builder.layout.spots.get(body)
    low, high = builder.planes.heights(body)
    if builder.planes.tapered_flat(body) is not None:
        return None
    if own == plane:
        return low, high
    frame, seen = builder.layout.frames.get(own), builder.layout.frames.get(plane)
    if frame is None or seen is None or spot is None or 0.0 in spot.half:
        return None
    (x, y), (w, h) = spot.at, spot.half
    corners = itertools.product((x - w, x + w), (y - h, y + h), (low, high))
    over = [seen.onto(frame.point((a, b), c))[1] for a, b, c in corners]
    return min(over), max(over)


def _is_plane(ref: Ref | None, on: Mention | None) -> bool:
    """Whether what a depth is counted from is a plane of its own."""
    counted = on if ref is None else ref
    return counted is not None and not counted.part


def mouth_of(
    builder: Builder, facts: Facts, own: tuple[str, ...], on: Mention | None, turn: float
) -> Mouth | None:
    """The counterbore or countersink of a hole.  Raises Trouble('mouth-too-small')."""
    claim = facts.one(*MOUTHS)
    if claim is None:
        return None
    told = claim.get("thing")
    ref = told if isinstance(told, Ref) else None
    if ref is None and on is None:
        ref = Ref("", "front", claim.span)
    with at_fault(claim.span):
        start, out, flat, bare = _start(builder, facts.name, ref, own)
    wide, size = size_of(claim, "number"), across(facts.entry)
    bore = size.made.value if size is not None else 0.0
    if wide.value <= bore:
        raise Trouble(
            "mouth-too-small",
            f"the {claim.word} of `{facts.name}` ({wide.value:g}) is not wider than the hole ({bore:g})",
            (facts.name,),
            span=claim.span,
        )
    conical = claim.word == "countersink"
    deep = None if conical else size_of(claim, "depth")
    # A countersink is 90 degrees included, as ISO 10642 heads are: its depth is half the difference.
    depth = 0.5 * (wide.value - bore) if deep is None else deep.value
    return Mouth(
        conical,
        wide,
        depth,
        deep,
        claim.word_of("which") == "nut",
        turn,
        start,
        out,
        flat,
        bare,
        claim.word_of("screw"),
        claim.word_of("standard"),
        pocket_name(claim) or "",
        said_of(claim),
        from_plane=_is_plane(ref, on),
    )
