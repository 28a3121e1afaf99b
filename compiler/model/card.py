"""What a recipe says of the whole part: its card.  It is made of a recipe with mistakes too, so that cautions
are never lost.
"""

from __future__ import annotations

from msgspec import Struct

from ..diagnostics.types import Span
from ..facts import Claim, Claims, Ref
from ..facts.types import LaidAs
from ..quantities import Quantity
from .types import Mention, Said


class CardLine(Struct, frozen=True):
    """A text of the card, and the line it stands in."""

    word: str
    text: str
    span: Span | None


class Load(Struct, frozen=True):
    """A load in newtons: on what, and towards what where that is told: a `way` as the sheet is seen (`down`,
    `front`), or a thing or flat."""

    force: float
    on: Mention
    way: str
    towards: Mention | None
    said: Said


class Card(Struct, frozen=True):
    """The card.  `fields` are its texts in the order of their words; `lines` those that speak of what the
    part is for.

    `mirrored`: made for the other hand; `wound`: threads are wound the other way (by the other hand, or by a
    recipe that mirrors this one); `make`: how many are wanted; `hollows`: how many closed hollows are meant;
    `up`: what `laid` says looked at the reader."""

    title: str
    span: Span | None = None
    fields: tuple[tuple[str, str], ...] = ()
    lines: tuple[CardLine, ...] = ()
    plastic: CardLine | None = None
    loads: tuple[Load, ...] = ()
    prints_on: Mention | None = None
    up: tuple[Mention, ...] = ()
    mirrored: bool = False
    wound: bool = False
    make: int = 1
    hollows: int = 0
    hollows_said: Said | None = None


_SPEAKS_OF_USE = ("fits", "broke", "changed", "load")


def mention(ref: Ref) -> Mention:
    """A mention as the model keeps it."""
    return Mention(str(ref), ref.name, ref.part, ref.span)


def card_of(claims: Claims) -> Card:
    """The card of a recipe."""
    recipe, texts = claims.recipe, dict(claims.card)
    if recipe is None:
        return Card(claims.title, fields=claims.card, wound=claims.flipped)
    first = {claim.word: claim.span for claim in reversed(recipe.claims)}
    lines = [CardLine(word, text, first.get(word)) for word, text in claims.card if word in _SPEAKS_OF_USE]
    mirrored, many, on = recipe.has("other hand"), recipe.one("off"), recipe.one("prints on")
    hollows = recipe.one("hollows")
    return Card(
        claims.title,
        recipe.span,
        claims.card,
        tuple(lines),
        CardLine("plastic", texts["plastic"], first.get("plastic")) if texts.get("plastic") else None,
        tuple(_load(claim) for claim in recipe.all("load")),
        mention(on.ref("thing")) if on is not None else None,
        tuple(mention(each.thing) for each in _laid(recipe.one("laid")) if each.wording == "up"),
        mirrored,
        mirrored != claims.flipped,
        int(many.number("count")) if many is not None else 1,
        int(hollows.number("count")) if hollows is not None else 0,
        None if hollows is None else Said(hollows.word, hollows.text, hollows.span),
    )


def _load(claim: Claim) -> Load:
    force = claim.get("force")
    newtons = force.value if isinstance(force, Quantity) else 0.0
    said = Said(claim.word, claim.text, claim.span)
    towards = claim.get("towards")
    aim = mention(towards) if isinstance(towards, Ref) else None
    return Load(newtons, mention(claim.ref("thing")), claim.word_of("way"), aim, said)


def _laid(claim: Claim | None) -> list[LaidAs]:
    phrases = claim.get("phrases") if claim is not None else ()
    return [each for each in phrases if isinstance(each, LaidAs)] if isinstance(phrases, tuple) else []
