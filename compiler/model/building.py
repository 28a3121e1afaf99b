"""The claims and places of a recipe become its model: each thing made once, each fact taken once."""

from __future__ import annotations

from collections.abc import Iterator

from ..diagnostics.types import Answered, Diagnostic, Trouble
from ..facts import Claims, Entry, Ref
from ..facts.kind_questions import is_body
from ..facts.types import FLATS, SIDES, Pass
from ..kinds import own_file
from ..places.edge_lines import edge_line
from ..places.layout import Layout
from .answering import answer
from .builder import Builder
from .card import card_of
from .taking import Facts
from .things import MAKERS, Let
from .types import FlatOf, Model, Thing
from .unused import unused_facts


def build_model(claims: Claims, layout: Layout) -> tuple[Model, tuple[Diagnostic, ...]]:
    """The model of a recipe in which everything is placed, and what stands in the way of it."""
    builder = Builder(claims, layout)
    found: list[Diagnostic] = []
    things: dict[str, Thing] = {}
    spans = {name: entry.span for name, entry in claims.entries.items()}
    for name, entry in claims.entries.items():
        facts = builder.facts(name)
        try:
            thing = _made(builder, facts, entry)
        except Trouble as trouble:
            if not isinstance(trouble, Answered):
                found.append(answer(trouble, entry.span, spans))
            continue
        if thing is not None:
            things[name] = thing
    found += unused_facts(((builder.facts(name), thing) for name, thing in things.items()), layout.used)
    edges = {
        str(ref): edge for ref in _mentions(claims) if (edge := edge_line(builder.planes, ref)) is not None
    }
    model = Model(
        card_of(claims),
        things,
        dict(layout.frames),
        _flats(builder, claims, things),
        edges,
        claims.spoken_of,
        tuple(Let(name=entry.name, noun=entry.kind, span=entry.span) for entry in claims.lets),
    )
    return model, tuple(found)


def _made(builder: Builder, facts: Facts, entry: Entry) -> Thing | None:
    own = own_file(entry.kind, "model")
    if own is not None:
        thing = own.make(builder, facts)
    elif entry.kind in MAKERS:
        thing = MAKERS[entry.kind](builder, facts)
    else:
        return None
    assert thing is None or isinstance(thing, Thing)
    return thing


def _mentions(claims: Claims) -> Iterator[Ref]:
    """Everything that some statement speaks of."""
    recipe = (claims.recipe,) if claims.recipe is not None else ()
    for entry in (*claims.entries.values(), *recipe):
        for claim in entry.claims:
            for _, value in claim.values:
                for each in value if isinstance(value, tuple) else (value,):
                    ref = each.thing if isinstance(each, Pass) else each
                    if isinstance(ref, Ref) and ref.name in claims.entries:
                        yield ref


def _flats(builder: Builder, claims: Claims, things: dict[str, Thing]) -> dict[str, FlatOf]:
    """The flats, sides and planes that are spoken of, and the front and back of every body, by name."""
    found: dict[str, FlatOf] = {}
    for name in things:
        if is_body(claims.entries[name]):
            for part in FLATS:
                _keep(builder, found, Ref(name, part, claims.entries[name].span))
    for ref in _mentions(claims):
        if ref.part in (*FLATS, *SIDES) or claims.entries[ref.name].kind == "plane":
            _keep(builder, found, ref)
    return found


def _keep(builder: Builder, found: dict[str, FlatOf], ref: Ref) -> None:
    if str(ref) not in found and builder.planes.is_flat(ref) and (flat := builder.flat(ref)) is not None:
        found[str(ref)] = flat


__all__ = ["build_model"]
