"""Recipes for the questions, and what came of them."""

from __future__ import annotations

import makegood
from makegood.diagnostics.types import Diagnostic

BODY = """
block body
    long 40.0
    wide 20.0
    thick 4.0
"""


def asked(recipe: str, *, ok: bool = True) -> list[Diagnostic]:
    """All messages on a recipe that must compile (or must not)."""
    result = makegood.compile_text(
        recipe if recipe.startswith("recipe") else f'recipe "part"\n{recipe}', "part.mend"
    )
    assert result.ok is ok, result.diagnostics
    return list(result.diagnostics)


def codes(recipe: str) -> list[str]:
    """The codes of all messages, in the order they came."""
    return [one.code for one in asked(recipe)]


def headline(recipe: str) -> str:
    """The headline of the only message."""
    found = asked(recipe)
    assert len(found) == 1, found
    return found[0].headline


def bore(name: str, *facts: str) -> str:
    """A bore of these facts."""
    return "\n".join([f"\nbore {name}", *(f"    {fact}" for fact in facts)]) + "\n"


def at(x: float, y: float) -> tuple[str, str]:
    """Facts that place a hole on the body."""
    return (f"from body.left centre {x}", f"from body.bottom centre {y}")
