"""Places in messages are told from the writer's own things, in page words."""

from __future__ import annotations

import makegood

HEAD = """recipe "x"
    laid a left of b
point a
point b
    from a 30.0
    level with a
point c
    at 20, 10 from a
point d
    at 20, -10 from a
plate body
    thick 4
"""


def test_a_corner_is_told_by_the_thing_that_stands_there():
    found = makegood.compile_text(HEAD + "    outline a, d, b, c\n    round outside 40 at b\n").diagnostics
    (one,) = [one for one in found if one.code == "round-too-large"]
    assert "in the corner at `b`" in one.headline


def test_a_crossing_is_told_from_the_nearest_thing():
    """a (0, 0), b (30, 0), c (20, 10), d (20, -10): legs a-b and c-d of the walk a, b, c, d cross at (20,
    0).
    """
    found = makegood.compile_text(HEAD + "    outline a, b, c, d\n").diagnostics
    (one,) = [one for one in found if one.code == "outline-crosses"]
    assert "near 10.00 left of `b`" in one.headline or "near 10.00 below `c`" in one.headline
