"""Which known words a mistyped word may have been meant as.

Distance: the fewest single slips - a letter left out, put in, changed, or two neighbours swapped (optimal
string alignment; R. Lowrance and R. Wagner 1975, in the restricted form where no stretch is mended twice).
Only a band as wide as the slips allowed is computed, candidates of another length or with other letters are
passed over first, and words are cut at `LONGEST`, so that ten thousand names and a line of rubbish still
answer at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

LONGEST = 48
MOST_CANDIDATES = 20_000


def nearest(word: str, candidates: Iterable[str], most: int = 3) -> list[str]:
    """Up to `most` candidates that `word` may have been meant as, likeliest first; the same list for any
    order given.

    Capitals don't count.  Words that go on where `word` stops, or stop where it goes on, come last."""
    wanted = word.casefold()[:LONGEST]
    allowed = slips_allowed(len(wanted))
    letters = Counter(wanted)
    found: list[tuple[int, bool, str]] = []
    for candidate in sorted(set(candidates))[:MOST_CANDIDATES]:
        if candidate == word or not candidate:
            continue
        other = candidate.casefold()
        count = _slips_or_none(wanted, other, letters, allowed)
        if count is not None:
            found.append((count, other[0] != wanted[:1], candidate))
    return [candidate for _, _, candidate in sorted(found)[:most]]


def slips_allowed(length: int) -> int:
    """How many slips a word of this length may hold and still be recognised; a single letter none."""
    if length < 2:
        return 0
    return 1 if length < 5 else 2 if length < 9 else 3


def _slips_or_none(wanted: str, other: str, letters: Counter[str], allowed: int) -> int | None:
    """Slips between the two when few enough, one more than allowed for a shared beginning, else None."""
    if abs(len(other) - len(wanted)) <= allowed and _letters_apart(letters, other) <= allowed:
        count = slips(wanted, other, allowed)
        if count <= allowed:
            return count
    if min(len(wanted), len(other)) >= 3 and (other.startswith(wanted) or wanted.startswith(other)):
        return allowed + 1
    return None


def _letters_apart(letters: Counter[str], other: str) -> int:
    """A lower bound of the slips: letters that one word has and the other lacks, the larger of the two
    counts.
    """
    theirs = Counter(other)
    return max((letters - theirs).total(), (theirs - letters).total())


def slips(first: str, second: str, limit: int) -> int:
    """Slips from one word to the other, exact up to `limit`, `limit + 1` for everything farther apart."""
    far = limit + 1
    if abs(len(first) - len(second)) > limit:
        return far
    before: list[int] = []
    row = [min(column, far) for column in range(len(second) + 1)]
    for i in range(1, len(first) + 1):
        two_before, before = before, row
        row = [far] * (len(second) + 1)
        if i <= limit:
            row[0] = i
        for j in range(max(1, i - limit), min(len(second), i + limit) + 1):
            best = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (first[i - 1] != second[j - 1]))
            if i > 1 and j > 1 and first[i - 1] == second[j - 2] and first[i - 2] == second[j - 1]:
                best = min(best, two_before[j - 2] + 1)
            row[j] = min(best, far)
        if min(row) > limit:
            return far
    return row[-1]
