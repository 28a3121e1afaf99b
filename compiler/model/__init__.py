"""Out of this room: the part as it will be made, typed and frozen; each fact of the recipe taken once, or
answered.
"""

from .building import build_model
from .card import Card, card_of
from .types import Body, Model, Size, Thing

__all__ = ["Body", "Card", "Model", "Size", "Thing", "build_model", "card_of"]
