"""What is said when a name is in no table: the one place where the tables speak to a person."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ...diagnostics.nearness import nearest
from ...diagnostics.types import Trouble


def unknown(what: str, name: str, known: Iterable[str], meant: Sequence[str]) -> Trouble:
    """Trouble('unknown-WHAT') for a name, with what may be meant and all that is known as advice."""
    told = (f"did you mean {' or '.join(meant)}?",) if meant else ()
    advice = (*told, f"known are {', '.join(known)}")
    return Trouble(f"unknown-{what}", f"no {what} is called '{name}'", names=(name,), advice=advice)


def spelt_alike(name: str, known: Iterable[str]) -> list[str]:
    """Up to three known names that the name may be a slip for, likeliest first."""
    return nearest(name, known)
