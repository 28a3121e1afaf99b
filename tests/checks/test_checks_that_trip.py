"""A check that trips over one body says so, and all other answers come."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from makegood.checks import checking
from makegood.checks.openings import PlaneOpenings, Survey
from makegood.checks.walls import thin_walls
from makegood.diagnostics.types import Diagnostic, Trouble

from .asking import asked

TWO = """
block one
    long 20.0
    wide 20.0
    thick 4.0
block two
    long 20.0
    wide 20.0
    thick 4.0
    on one.front
    around one
bore first
    across 4.0
    through one
    from one.left centre 2.5
    from one.bottom centre 10.0
bore second
    across 4.0
    through two
    from two.left centre 2.5
    from two.bottom centre 10.0
"""


def test_the_rest_is_answered(monkeypatch: pytest.MonkeyPatch):
    def trips(scene: Survey, group: PlaneOpenings) -> Iterable[Diagnostic]:
        if group.body.name == "one":
            raise Trouble("no-outline", "an outline without an inside")
        return thin_walls(scene, group)

    before = [one for one in asked(TWO) if one.code == "thin-wall"]
    assert {one.headline.split("`")[1] for one in before} == {"first", "second"}
    monkeypatch.setattr(checking, "_OF_HOLES", (trips,))
    found = {one.code: one.headline for one in asked(TWO)}
    assert "`second`" in found["thin-wall"]
    assert "`one`" in found["check-failed"]
    assert "an outline without an inside" in found["check-failed"]
