"""Each line that a message offers is compiled, in the recipe that got the offer."""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import makegood
from makegood.diagnostics import codes, read_page

from .offers import ADDED, REPLACED, offers, unheard

ROOT = Path(__file__).resolve().parents[2]
_PLACES = re.compile(r" +(from|right of|left of|above|below|level)\b")
SWAPS = {"near": "far", "left": "right", "above": "below"}


def _recipes() -> Iterator[str]:
    """Recipes that get messages: pages, cases, and examples with a line dropped or a word turned round."""
    yield from (read_page(code).example for code in codes())
    for path in sorted(ROOT.glob("tests/facts_used/*.cases")):
        yield from (case.split("\n", 1)[-1] for case in re.split(r"^=== ", path.read_text(), flags=re.M)[1:])
    chance = random.Random(11)
    for path in sorted(ROOT.glob("examples/*.mend")):
        rows = path.read_text().split("\n")
        facts = [
            k for k, row in enumerate(rows) if re.match(r" +(from|right of|left of|above|below|level)\b", row)
        ]
        for k in chance.sample(facts, min(6, len(facts))):
            yield "\n".join([*rows[:k], *rows[k + 1 :]])
            turned = re.sub(r"\b(near|left|above)\b", lambda match: SWAPS[match.group()], rows[k])
            yield "\n".join([*rows[:k], turned, *rows[k + 1 :]])


def test_every_offer_is_taken_as_it_was_meant():
    tried: Counter[str] = Counter()
    wrong = []
    for recipe in _recipes():
        for found in makegood.compile_text(recipe).diagnostics:
            if found.code not in ADDED | REPLACED or found.span is None:
                continue
            for lines in offers(found):
                tried[found.code] += 1
                if trouble := unheard(recipe, found, lines):
                    wrong.append(f"{found.headline} -> {lines}: {trouble}")
    assert not wrong, "\n".join(wrong)
    assert sum(tried.values()) > 100, tried
    assert len(tried) >= 4, tried
