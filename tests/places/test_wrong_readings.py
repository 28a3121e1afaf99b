"""One wrong reading among good ones: is it found, and is a wrong word named?  Parts and counting in
`synthetic`.
"""

import math
import os

import pytest
from makegood.network.adjust import adjust
from makegood.network.adjustment_types import Misread
from makegood.network.hypotheses import (
    edge_alternatives,
    misread_numbers,
    number_alternatives,
    sized_things,
    usual_alternatives,
)
from makegood.network.solve import solve_network
from makegood.network.suspects import verdicts
from makegood.network.types import Centred, Distance, Network, ReadEdge, SideWord, SizeReading, ToLine, Way
from makegood.places.answers import slip_words
from msgspec.structs import replace

from .synthetic import U, part, shares

C, N, F = ReadEdge.CENTRE, ReadEdge.NEAR, ReadEdge.FAR
LONG = bool(os.environ.get("MAKEGOOD_LONG"))
PARTS = 300 if LONG else 16


@pytest.mark.parametrize(("redundancy", "named"), [(3, 0.77), (5, 0.92), (8, 0.99)])
def test_a_wrong_word_is_named(redundancy, named):
    # shares to reach: worked out beforehand on 300 simulated parts; a few parts only allow for chance
    found = shares(PARTS, redundancy, "word")
    slack = 0.0 if LONG else 2.5 * math.sqrt(named * (1 - named) / PARTS)
    assert round(found["ranked"], 2) >= named - slack  # the shares to reach are known to a hundredth
    # naming it also takes two tests at 1 %, which a right word fails by chance once in fifty times or so
    assert found["named"] >= named - slack - 0.02
    assert found["held"] >= 0.9


@pytest.mark.parametrize("redundancy", [3, 5, 8])
def test_a_slip_is_among_the_suspects(redundancy):
    found = shares(PARTS, redundancy, "slip")
    # suspects are all that can't be told from the best at 1 %, so about one slip in a hundred is missed by
    # chance
    assert found["held"] >= (0.98 if LONG else 0.85)
    assert found["suspects"] < {3: 8, 5: 5, 8: 3}[redundancy]


def test_the_sentence_of_a_wrong_word():
    made = part(4, 8)
    row = next(r for r in made.net.rows if (r.edge_a, r.edge_b) == (C, C))
    bad = replace(row, edge_a=F, edge_b=F)
    net = replace(made.net, rows=tuple(bad if r.key == row.key else r for r in made.net.rows))
    (v,) = verdicts(adjust(net), usual_alternatives(net, 1e-5))
    best = v.readings_as[0]
    assert best.alternative.key == row.key
    assert slip_words(best.alternative.slip) == "read between centres, not far-far"
    assert best.before > v.test.limit > best.after


@pytest.mark.parametrize("spoil", [25.4, 1 / 25.4])
def test_a_wrong_unit_is_named(spoil):
    made = part(11, 8)
    row = made.net.rows[-1]
    bad = replace(row, value=row.value * spoil)
    net = replace(made.net, rows=(*made.net.rows[:-1], bad))
    unit = 1.0 if spoil < 1 else 25.4
    alternatives = [a for r in net.rows for a in number_alternatives(r, f"{r.value / unit:.4f}", unit)]
    (v,) = verdicts(adjust(net), alternatives)
    assert v.readings_as[0].alternative.key == row.key
    assert "inches" in slip_words(v.readings_as[0].alternative.slip)
    assert v.readings_as[0].alternative.row.value == pytest.approx(row.value)


def test_misread_numbers_of_a_typed_number():
    found = dict(misread_numbers("28.40"))
    assert found[82.40] == Misread.SWAPPED
    assert found[24.80] == Misread.SWAPPED
    assert found[38.40] == Misread.DIGIT
    assert 28.40 not in found
    assert 28.41 not in found


def test_edge_words_of_a_reading_to_a_line():
    row = ToLine(1, "hole", "back", N, 4.0, U)
    net = Network((Centred("hole", 3.0), Centred("spot")), rows=(row,))
    found = {a.row.edge: slip_words(a.slip) for a in edge_alternatives(row, sized_things(net))}
    assert found == {C: "read to the centre, not near", F: "read far, not near"}
    assert edge_alternatives(replace(row, thing="spot"), sized_things(net)) == []


def test_a_wrong_diameter_is_a_suspect():
    made = part(21, 8)
    spoiled = replace(made.net.sizes[3], value=made.net.sizes[3].value + 1.0)
    sizes = (*made.net.sizes[:3], spoiled, *made.net.sizes[4:])
    a = adjust(replace(made.net, sizes=sizes))
    assert not all(t.fits for t in a.tests)
    assert spoiled.key in {s.key for v in verdicts(a) for s in v.suspects}


def triangle(*sides):
    rows = tuple(
        Distance(k, a, b, C, C, v, U)
        for k, (a, b, v) in enumerate((("pin", "rod", 30.0), ("rod", "grip", 25.0), ("pin", "grip", 45.0)))
    )
    words = tuple(SideWord(10 + k, a, Way[word.upper()], b) for k, (a, word, b) in enumerate(sides))
    return solve_network(Network(tuple(Centred(n) for n in ("pin", "rod", "grip")), rows=rows, sides=words))


@pytest.mark.parametrize(
    "sides",
    [
        (("pin", "left", "rod"), ("rod", "left", "grip"), ("rod", "above", "pin")),
        (
            ("grip", "above", "rod"),
            ("grip", "left", "rod"),
            ("pin", "below", "grip"),
            ("pin", "right", "rod"),
        ),
        (("grip", "above", "rod"), ("pin", "right", "rod"), ("pin", "above", "rod"), ("grip", "left", "rod")),
    ],
)
def test_side_words_turn_a_sheet_that_nothing_else_ties(sides):
    s = triangle(*sides)
    assert s.left_open == ()
    assert s.misfits == ()
    across = {"left": (-1, 0), "right": (1, 0), "above": (0, 1), "below": (0, -1)}
    for a, word, b in sides:
        dx, dy = s.things[a][0] - s.things[b][0], s.things[a][1] - s.things[b][1]
        assert across[word][0] * dx + across[word][1] * dy > 0
    assert math.dist(s.things["pin"], s.things["rod"]) == pytest.approx(30.0, abs=2e-6)


def test_side_words_no_turn_can_meet_are_told():
    s = triangle(("pin", "left", "rod"), ("rod", "left", "grip"), ("grip", "left", "pin"))
    assert s.misfits


def test_a_gauge_that_contradicts_another_is_told():
    net = Network(
        (Centred("h", 2.0, size="d"),),
        sizes=(SizeReading(1, "d", 4.0, 0.01), SizeReading(2, "d", 4.5, 0.01)),
    )
    (v,) = verdicts(adjust(net))
    assert {s.key for s in v.suspects} == {1, 2}
    assert not v.can_tell
