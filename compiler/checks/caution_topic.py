"""One topic that a word of caution may be said about."""

from __future__ import annotations

from msgspec import Struct


class Topic(Struct, frozen=True):
    """A topic: the headline's end, why, what to do instead or besides, and the phrases that call for it."""

    about: str
    why: str
    do: str
    phrases: tuple[str, ...]
