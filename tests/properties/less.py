"""A recipe without one of its statements or facts, and which way the volume may go then."""

from __future__ import annotations

import re
from random import Random

from makegood.facts.needs import BODIES, HOLES

from .writing import Recipe, Statement

ADDS, CUTS, NOTHING = 1, -1, 0
# What a fact of a kind does to the volume by being there, by its first word.
FACTS: dict[str, dict[str, int]] = {
    "turning": dict.fromkeys(
        ("bevel", "round", "cove", "vee", "groove", "serrated", "splines", "diamond"), CUTS
    )
    | dict.fromkeys(("hex", "square", "flat", "trim", "bored"), CUTS)
    | {"bead": ADDS, "hollow": ADDS},
    "block": {"bevel": CUTS, "round outside": CUTS, "trim": CUTS, "rack": CUTS, "springs": NOTHING},
    "plate": {
        "bevel": CUTS,
        "round outside": CUTS,
        "round inside": ADDS,
        "trim": CUTS,
        "grow": ADDS,
        "shrink": CUTS,
        "springs": NOTHING,
    },
    "strip": {"springs": NOTHING},
    "peg": {"bevel": CUTS, "serrated": CUTS, "splines": CUTS, "flat": CUTS, "flats": CUTS},
    "bore": {
        "serrated": ADDS,
        "splines": ADDS,
        "flat": ADDS,
        "flats": ADDS,
        "counterbore": CUTS,
        "countersink": CUTS,
    },
    "notch": {"round inside": ADDS},
    "slot": {"square ends": CUTS},
    "arm": {"tip": CUTS, "fillet": ADDS},
    "thicken": {"ramp": ADDS},
    "relieve": {"ramp": CUTS},
    "recipe": dict.fromkeys(
        ("load", "prints", "plastic", "off", "hollows", "by", "readings", "fits", "result"), NOTHING
    ),
}
SIGNS = {kind: ADDS for kind in BODIES} | dict.fromkeys(HOLES, CUTS)
SIGNS |= {
    "fillet": ADDS,
    "thicken": ADDS,
    "relieve": CUTS,
    "neighbour": NOTHING,
    "point": NOTHING,
    "line": NOTHING,
    "plane": NOTHING,
    "let": NOTHING,
}

Less = tuple[Recipe, int, str]


def _sign(recipe: Recipe, one: Statement) -> int | None:
    if one.kind == "mark":
        return ADDS if any(fact.startswith("raised") for fact in one.facts) else CUTS
    if one.kind in ("row", "ring", "grid", "mirror"):
        of = next(fact.split()[1] for fact in one.facts if fact.startswith("of "))
        return SIGNS.get(next(other.kind for other in recipe.statements if other.name == of))
    return SIGNS.get(one.kind)


def without_a_statement(recipe: Recipe, rnd: Random) -> list[Less]:
    """The recipe without each of the statements that no other speaks of, in any order; which way each one
    acts.
    """
    found = []
    for one in recipe.statements[1:]:
        others = [other for other in recipe.statements if other is not one]
        named = re.compile(rf"(?<![\w-]){re.escape(one.name)}(?![\w-])")
        sign = _sign(recipe, one)
        if sign is None or any(named.search(fact) for other in others for fact in other.facts):
            continue
        found.append((Recipe(statements=others), sign, one.head or f"{one.kind} {one.name}"))
    return rnd.sample(found, len(found))


def without_a_fact(recipe: Recipe, rnd: Random) -> list[Less]:
    """The recipe without each of the facts of which the table tells what they do, in any order."""
    found = []
    for i, one in enumerate(recipe.statements):
        for fact in one.facts:
            sign = _acts(one.kind, fact)
            if sign is None:
                continue
            fewer = Statement(one.kind, one.name, [other for other in one.facts if other != fact], one.head)
            found.append(
                (Recipe(statements=[*recipe.statements[:i], fewer, *recipe.statements[i + 1 :]]), sign, fact)
            )
    return rnd.sample(found, len(found))


def _acts(kind: str, fact: str) -> int | None:
    table = FACTS.get(kind, {})
    words = fact.split()
    return table.get(" ".join(words[:2]), table.get(words[0]))
