"""The chi-square and normal distributions, and the constants of Baarda's tests.  No table, no library.

Chi-square by the incomplete gamma function: series (Abramowitz and Stegun 6.5.29) and continued fraction
(6.5.31, run by Lentz's method); quantiles by bisection of it (26.4.1, 26.4.2: the tail as incomplete gamma).
"""

from __future__ import annotations

import math
from functools import lru_cache

LEVEL = 0.01  # a global test fires by chance once in a hundred good parts
BAARDA = 3.2905  # two-sided limit of one normalised residual at 0.001 (Baarda 1968)
DETECTABLE = 4.13  # non-centrality found with 80 % power at that limit (Baarda 1968, from memory)
NEARLY = 6.6349  # chi-square, one freedom, 1 %: explanations closer than this can't be told apart
COVER = 2.0  # factor from standard to expanded uncertainty, about 95 % (JCGM 100:2008, 6.3.3)
TINY = 1e-300


def _series(a: float, x: float) -> float:
    term = total = 1.0 / a
    for n in range(1, 10_000):
        term *= x / (a + n)
        total += term
        if term < total * 1e-17:
            break
    return total * math.exp(-x + a * math.log(x) - math.lgamma(a))


def _fraction(a: float, x: float) -> float:
    b = x + 1.0 - a
    c, d = 1.0 / TINY, 1.0 / b
    h = d
    for n in range(1, 10_000):
        an = -n * (n - a)
        b += 2.0
        d = an * d + b
        d = 1.0 / (d if abs(d) > TINY else TINY)
        c = b + an / c
        c = c if abs(c) > TINY else TINY
        h *= d * c
        if abs(d * c - 1.0) < 1e-16:
            break
    return math.exp(-x + a * math.log(x) - math.lgamma(a)) * h


def chi_square_tail(value: float, freedoms: int) -> float:
    """The chance that chi-square with `freedoms` (1 or more) exceeds `value`; 0 for a value past all
    measure.
    """
    a, x = freedoms / 2, value / 2
    if x <= 0:
        return 1.0
    if x > 1e5 + 2 * a:
        return 0.0
    return 1.0 - _series(a, x) if x < a + 1 else _fraction(a, x)


@lru_cache(maxsize=512)
def chi_square_limit(freedoms: int, level: float = LEVEL) -> float:
    """The value that chi-square exceeds with chance `level`; 0 for no freedoms."""
    if freedoms < 1:
        return 0.0
    low, high = 0.0, 10.0 + 2 * freedoms
    while chi_square_tail(high, freedoms) > level:
        high *= 2
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        low, high = (middle, high) if chi_square_tail(middle, freedoms) > level else (low, middle)
    return (low + high) / 2
