"""What a recipe claims: sizes as read and as made, sums, fits, conditions; and claims that can't be."""

import math

import makegood
import pytest
from makegood.quantities import Standing


def compiled(body, head='recipe "t"\n    readings +-0.05\n'):
    return makegood.compile_text(head + body)


def codes(result):
    return [one.code for one in result.diagnostics]


def size(result, name, word, key="size"):
    return result.claims.entries[name].one(word).measure(key)


BLOCK = "block b\n    long 20\n    wide 20\n    thick 2\n"


def test_read_made_wanted_and_about():
    result = compiled("block b\n    long 10.1 made 12\n    wide about 8\n    thick 2.0 wanted\n")
    long, wide, thick = (size(result, "b", word) for word in ("long", "wide", "thick"))
    assert (long.read.value, long.made.value) == (10.1, 12.0)
    assert (long.read.standing, long.made.standing) == (Standing.READ, Standing.WANTED)
    assert wide.read is None
    assert wide.made.standing is Standing.ABOUT
    assert (thick.read.value, thick.made.standing) == (2.0, Standing.WANTED)


def test_uncertainty_of_a_reading():
    """A stated limit a is rectangular, u = a / sqrt 3 (JCGM 100, 4.3.7); equal readings average to u / sqrt
    n; between a drill that goes and the next that does not lies a rectangular interval, u = step / sqrt 3
    about its end."""
    result = compiled(
        BLOCK
        + (
            "bore h\n    drill 6.1 not 6.2\n"
            "    from b.left near 3.0, 3.1, 3.2\n    from b.bottom near 4 +-0.1\n"
        )
    )
    near = {
        claim.ref("thing").part: claim.quantity("readings")
        for claim in result.claims.entries["h"].all("from")
    }
    assert near["left"].value == pytest.approx(3.1)
    assert near["left"].u == pytest.approx(0.05 / math.sqrt(3) / math.sqrt(3))
    assert near["bottom"].u == pytest.approx(0.1 / math.sqrt(3))
    assert size(result, "h", "drill").read.u == pytest.approx(0.1 / math.sqrt(3))


def test_sums_lean_on_other_things():
    result = compiled(
        "let gap = 0.3\nneighbour o\n    long 62.6\n    wide 1 in\n"
        "block b\n    long o.long - 2 * gap\n    wide o.wide\n"
        "    thick gap * 10\n"
    )
    assert result.ok
    assert size(result, "b", "long").made.value == pytest.approx(62.0)
    assert size(result, "b", "wide").made.value == 25.4
    assert size(result, "b", "thick").made.value == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("fact", "made"),
    [
        ("turns on 5.9", 6.1),
        ("slides on 5.9", 6.2),
        ("pushes on 5.9", 6.0),
        ("press on 5.9", 5.8),
        ("stretches on 10", 9.8),
        ("turns on M6", 6.2),
        ("as read", 6.1),
        ("clears 4.0", 4.5),
        ("clears M5", 5.5),
    ],
)
def test_what_a_hole_is_for_settles_its_size(fact, made):
    """Allowances: common practice, no source.  Clearance: ISO 273 medium."""
    result = compiled(
        BLOCK + f"bore h\n    drill 6.1\n    {fact}\n    from b.left near 2\n    from b.bottom near 2\n"
    )
    assert result.ok
    assert result.report().features[1].across == pytest.approx(made)


def test_places_are_solved_from_sizes_as_read():
    """A hole read as 6.1 and made 8: its centre stays where 6.1 put it; a block made wider keeps its
    middle.
    """
    base = "bore h\n    across 6.1{}\n    from b.left near 4\n    from b.bottom near 4\n"
    one, two = compiled(BLOCK + base.format("")), compiled(BLOCK + base.format(" made 7"))
    place = [(f.x, f.y) for r in (one, two) for f in r.report().features if f.name == "h"]
    assert place[0] == place[1] == (pytest.approx(7.05), pytest.approx(7.05))
    wider = compiled(BLOCK.replace("long 20", "long 20 made 24") + base.format(""))
    assert [f.x for f in wider.report().features if f.name == "h"] == [pytest.approx(9.05)]


WRONG = [
    ("let a = c\nlet c = a\n" + BLOCK, {"circle-of-sizes"}),
    ("let a = 1 / 0\n" + BLOCK, {"no-such-sum"}),
    ("let a = 3 deg + 2 mm\n" + BLOCK, {"no-such-sum"}),
    (BLOCK.replace("long 20", "long 0"), {"bad-size"}),
    (BLOCK.replace("long 20", "long -3"), {"bad-size"}),
    (BLOCK.replace("long 20", "long 99999"), {"number-too-big"}),
    (BLOCK.replace("long 20", "long b2.long"), {"unknown-name"}),
    (BLOCK.replace("long 20", "long 30 deg"), {"wrong-unit"}),
    (BLOCK + "    long 11\n", {"said-twice"}),
    (BLOCK + "point b\n    at 1, 2\n", {"name-twice"}),
    (BLOCK.replace("    thick 2\n", ""), {"fact-missing"}),
    (BLOCK + "bore h\n    drill 6.1 not 6.0\n    at 1, 1 from b\n", {"drill-backwards"}),
    (BLOCK + "bore h\n    clears M99\n    at 1, 1 from b\n", {"unknown-screw"}),
    (BLOCK + "bore h\n    across 3 wanted\n    from b.left near 2\n    from b.top near 2\n", None),
    (BLOCK + "bore h\n    clears M3\n    from b.left near 2\n    from b.top near 2\n", {"never-read"}),
    (BLOCK + "bore h\n    across 3\n    from b.left 2\n    from b.top near 2\n", {"which-edge"}),
    (BLOCK + "bore h\n    across 3\n    from b.lfet near 2\n    from b.top near 2\n", {"unknown-part"}),
    (BLOCK + "row r\n    of b\n    count 0\n    pitch 20\n", {"bad-count"}),
    (BLOCK + "row r\n    of b\n    count 1000000000\n    pitch 20\n", {"number-too-big"}),
]


@pytest.mark.parametrize(
    ("text", "expected"),
    WRONG,
    ids=[" ".join(sorted(e or {"good"})) + str(i) for i, (_, e) in enumerate(WRONG)],
)
def test_claims_that_cannot_be_are_answered(text, expected):
    result = compiled(text)
    assert {one.code for one in result.diagnostics if one.is_error} == (expected or set())


def test_a_number_is_no_thing_that_lies_somewhere():
    text = (
        'recipe "x"\nlet gap = 4\nblock b\n    long 9\n'
        "    wide 9\n    thick 3\nbore h\n    across 2\n    {}\n"
    )
    for fact in ("around gap", "level with gap", "from gap centre 3"):
        found = makegood.compile_text(text.format(fact)).diagnostics
        assert found
        assert all(one.span is not None and one.span.line >= 7 for one in found if one.is_error)


def test_the_same_line_twice_counts_once_with_a_note():
    result = compiled(BLOCK + "    thick 2\n")
    assert result.ok
    assert codes(result) == ["same-line-twice"]


def test_all_independent_mistakes_in_one_run_and_no_echoes():
    result = compiled(
        "bore a\n    drlil 6.0\nbore c\n    drill 3,4\npoint d\n    from a near 2\n    from e 3\n"
        + BLOCK
        + "web w\n    joins d, c\n"
    )
    assert [(one.span.line, one.code) for one in result.diagnostics] == [
        (4, "unknown-fact"),
        (6, "comma-in-number"),
        (9, "unknown-name"),
        (14, "fact-missing"),
    ]


def test_a_tool_or_the_digits_settle_the_uncertainty():
    """By a tool: its limit, the recipe's own where it gives one; else the larger of 0.05 and half the last
    digit typed.  All limits are rectangular, u = a / sqrt 3 (JCGM 100, 4.3.7)."""
    body = "block b\n    long 28 by rule\n    wide 28.4 by calliper\n    thick 28\n"
    plain = makegood.compile_text('recipe "t"\n' + body)
    own = makegood.compile_text('recipe "t"\n    by rule +-0.2\n    readings +-0.1\n' + body)
    us = [
        [size(r, "b", word).read.u * math.sqrt(3) for word in ("long", "wide", "thick")] for r in (plain, own)
    ]
    assert us == [
        [pytest.approx(0.3), pytest.approx(0.05), pytest.approx(0.5)],
        [pytest.approx(0.2), pytest.approx(0.05), pytest.approx(0.1)],
    ]


def test_a_slope_read_several_times_is_made_to_the_mean():
    """A wedge 40 x 20, (6.4 + 6.6) / 2 high on the left and 2.5 on the right: 40 * 20 * (6.5 + 2.5) / 2."""
    made = compiled(
        "block b\n    long 40\n    wide 20\n    taper 6.4 +-0.2, 6.6 +-0.2 at left, 2.5 at right\n"
    )
    assert made.ok
    assert made.figures.volume == pytest.approx(3600.0)
    wanted = compiled("block b\n    long 40\n    wide 20\n    taper 6.4 made 6.5 at left, 2.5 at right\n")
    assert wanted.figures.volume == pytest.approx(3600.0)


def test_a_place_on_an_axis_read_several_times_is_the_mean():
    """A disc of 20 across, 10.0 and 10.2 long, is 10.1 long (facets stay inside: up to 0.2 % less)."""
    made = compiled("turning k\n    across 20 from 0 to 10.0 +-0.2, 10.2 +-0.2\n")
    assert made.ok
    assert made.figures.box[2] == pytest.approx(10.1)
    assert made.figures.volume == pytest.approx(math.pi * 100 * 10.1, rel=2e-3)


def test_where_a_comma_parts_two_numbers_each_is_one_reading():
    """`taper A at STATION, B at STATION`: what stands behind the comma is the second size."""
    two = compiled(
        "turning k\n    taper 26.0 at 3.0, 24.0 +-0.2, 24.2 +-0.2 at 18.0\n    across 26 from 0 to 3.0\n"
    )
    assert two.ok
    claim = two.claims.entries["k"].one("taper")
    assert (claim.number("start"), claim.number("first"), claim.number("second")) == (
        3.0,
        26.0,
        pytest.approx(24.1),
    )
    assert codes(compiled(BLOCK + "point p\n    at 3.0, 3.1, 4.0 from b\n")) == ["misshapen-line"]


def test_a_worn_edge_is_not_copied_without_a_word():
    worn = compiled(BLOCK + "    bevel 0.5 worn\n")
    assert worn.ok
    assert codes(worn) == ["worn-copied"]
    assert codes(compiled(BLOCK + "    bevel 0.5 worn made 0.3\n")) == []


def test_a_named_number_may_be_a_reading():
    """u = a / sqrt 3 (JCGM 100, 4.3.7); without a give-or-take it is wanted and exact."""
    body = "let gap = 3.0{}\n" + BLOCK.replace("thick 2", "thick gap")
    read, wanted = (compiled(body.format(one)) for one in (" +-0.3", ""))
    assert size(read, "b", "thick").read.u == pytest.approx(0.3 / math.sqrt(3))
    assert size(read, "b", "thick").made.standing is Standing.READ
    assert size(wanted, "b", "thick").made.standing is Standing.WANTED
