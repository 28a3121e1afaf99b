"""What a gear or the wheel it meshes with says by its lines: teeth, mate, readings of its size."""

from __future__ import annotations

import math

from ..diagnostics.types import Trouble
from ..quantities.gears import PRESSURE, Gear, span_factor
from .modules import Estimate, taken
from .types import Claim, Claims, Entry, Ref

Centres = tuple[float, float, Claim]
"""The distance of two centres as read (mm), its give-or-take, and the claim behind."""


def plain_of(entry: Entry) -> tuple[int, float, bool, bool]:
    """Count of teeth, lean (radians), whether it leans to the left, whether it is toothed inside.  Raises
    Trouble: 'fact-missing', 'bad-gear'.
    """
    teeth, helix = entry.one("teeth"), entry.one("helix")
    if teeth is None:
        rack = (
            ("a rack has none, it says:  pitch 39.25 over 10   or   module 1.25",)
            if entry.kind == "neighbour"
            else ()
        )
        raise Trouble(
            "fact-missing",
            f"{entry.kind} `{entry.name}` meshes, but does not say how many teeth it has",
            (entry.name,),
            advice=("add a line such as: teeth 43", *rack),
        )
    lean = math.radians(helix.number("angle")) if helix is not None else 0.0
    if lean > math.radians(45.0):
        raise Trouble(
            "bad-gear",
            f"the teeth of `{entry.name}` lean by {math.degrees(lean):g} degrees: 45 is the most",
            (entry.name,),
        )
    left = helix is not None and helix.word_of("hand") == "left-handed"
    return int(teeth.number("count")), lean, left, entry.has("inside")


def lean_of(entry: Entry) -> float:
    """How far (radians) the teeth of a gear or neighbour lean; raises Trouble as `gear_of` does."""
    return plain_of(entry)[1]


def mate_entry(entry: Entry, claims: Claims) -> Entry | None:
    """The wheel that a gear meshes with, whichever of the two says so; None for none, or for a rack."""
    claim = entry.one("meshes")
    if claim is not None:
        found = claims.entries[claim.ref("thing").name]
        if _is_rack(found):
            return None
        plain_of(found)
        return found
    for other in claims.of_kind("gear"):
        meshes = other.one("meshes")
        if meshes is not None and meshes.ref("thing").name == entry.name:
            return other
    return None


def _is_rack(entry: Entry) -> bool:
    """A neighbour that tells how large its teeth are by themselves, and has no count of them round an
    axis.
    """
    return (
        entry.kind == "neighbour"
        and not entry.has("teeth", "across", "span")
        and entry.has("module", "pitch")
    )


def rack_of_gear(entry: Entry, claims: Claims) -> Entry | None:
    """The rack that a gear meshes with, where its mate is one; raises Trouble('bad-gear') for what only two
    wheels can be.
    """
    claim = entry.one("meshes")
    rack = claims.entries[claim.ref("thing").name] if claim is not None else None
    if claim is None or rack is None or not _is_rack(rack):
        return None
    if claim.get("apart") is not None:
        raise Trouble(
            "bad-gear",
            f"`{rack.name}` says no count of teeth, so it is a rack, and has no centre",
            (entry.name,),
            advice=(f"meshes {rack.name}   or, for a wheel, `teeth 43` among what {rack.name} says",),
        )
    if entry.has("inside"):
        raise Trouble(
            "bad-gear",
            f"ring gear `{entry.name}` can't mesh with `{rack.name}`, which is a rack",
            (entry.name,),
            advice=("say how many teeth the wheel in it has, such as: teeth 12",),
        )
    return rack


def check_can_mesh(entry: Entry, mate: Entry) -> None:
    """Raise Trouble('bad-gear') for two rings, and for a ring with no more teeth than the wheel in it."""
    (one, *_, inside), (two, *_, other_inside) = plain_of(entry), plain_of(mate)
    if inside and other_inside:
        raise Trouble(
            "bad-gear",
            f"`{entry.name}` and `{mate.name}` are both toothed inside: they can't mesh",
            (entry.name,),
        )
    if (inside and one <= two) or (other_inside and two <= one):
        ring, wheel = (entry, mate) if inside else (mate, entry)
        raise Trouble(
            "bad-gear",
            f"ring gear `{ring.name}` has no more teeth than `{wheel.name}` in it",
            (entry.name,),
            advice=("count the teeth again",),
        )


def centres_read(entry: Entry, mate: Entry | None) -> Centres | None:
    """Centre distance of a gear and its mate as read (`meshes wheel, centres 31.0`, or the reading that
    places one of them): value, give-or-take, claim."""
    if mate is None:
        return None
    for one, other in ((entry, mate), (mate, entry)):
        meshes = one.one("meshes")
        if meshes is not None and meshes.get("apart") is not None and meshes.ref("thing").name == other.name:
            read = meshes.quantity("apart")
            return read.value, math.sqrt(3.0) * read.u, meshes
        for claim in one.all("from"):
            ref = claim.get("thing")
            if (
                isinstance(ref, Ref)
                and ref.name == other.name
                and claim.word_of("edges") in ("centre", "centres")
            ):
                read = claim.quantity("readings")
                return read.value, math.sqrt(3.0) * read.u, claim
    return None


def estimates_of(entry: Entry, teeth: int, helix: float, inside: bool, told: float) -> list[Estimate]:
    """What the readings over tips and over teeth say of the module; `told`: the shift that is said.  Raises
    Trouble('bad-gear').
    """
    found = []
    way = -1.0 if inside else 1.0
    across, span = entry.one("across"), entry.one("span")
    for claim in (across, span):
        if (
            claim is not None
            and (both := claim.measure("size")).read is not None
            and both.read.value != both.made.value
        ):
            raise Trouble(
                "bad-gear",
                f"`{claim.text}`: a gear can't be made another size there",
                (entry.name,),
                advice=("its sizes follow from teeth, module and shift: say one of these",),
                span=claim.span,
            )
    if across is not None:
        size, read = taken(across.measure("size"))
        shape = Gear(max(teeth, 3), 1.0, told, inside, helix)
        tip = size.value * shape.tip / shape.over_tips if read else size.value
        found.append(Estimate(tip, math.sqrt(3.0) * size.u, teeth / math.cos(helix) + way * 2.0, 2.0, across))
    if span is not None:
        size, _ = taken(span.measure("size"))
        over = int(span.number("over"))
        if not 1 < over < teeth:
            raise Trouble(
                "bad-gear",
                f"a span over {over} of {teeth} teeth can't be read",
                (entry.name,),
                advice=("span 7.66 over 3: jaws over three teeth",),
            )
        found.append(
            Estimate(
                size.value,
                math.sqrt(3.0) * size.u,
                span_factor(teeth, over, helix),
                2.0 * math.sin(PRESSURE),
                span,
            )
        )
    return found
