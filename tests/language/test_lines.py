"""Lines: what is read from a text, and how a line that is none is answered.  Malformed samples stand in one
table.
"""

import math

import pytest
from makegood.language.items import Binary, Name, Negative, Numeral, Punctuation, Quoted
from makegood.language.shapes import kinds, read_shape
from makegood.quantities import Quantity, Standing, Unit, combine, parse_number
from makegood.source import read_text
from makegood.tree import parse_rows, tidy_rows, tree_text


def parsed(text):
    source, found = read_text(text, "t.mend")
    tree, written, more = parse_rows(source)
    return tree, written, (*found, *more)


def items(line):
    """The items of one fact line, as plain texts; sums as nested tuples."""
    _, written, _ = parsed(f"bore x\n    {line}\n")
    row = written[1].row
    from makegood.tree.lines import items_of

    found = items_of(row)
    assert isinstance(found, list)
    return [plain(one) for one in found]


def typed(value):
    """The first number of what fills a slot, as it was typed."""
    readings = getattr(value, "readings", value)
    return (readings[0] if isinstance(readings, tuple) else readings).value.text


def plain(item):
    if isinstance(item, Binary):
        return (plain(item.left), item.sign, plain(item.right))
    if isinstance(item, Negative):
        return ("-", plain(item.of))
    if isinstance(item, Quoted):
        return f'"{item.text}"'
    if isinstance(item, Name | Numeral | Punctuation):
        return item.text
    return ("(", plain(item.of), ")")


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("from pivot near 4.95", ["from", "pivot", "near", "4.95"]),
        ("thick 3.98 -4.02", ["thick", "3.98", ("-", "4.02")]),
        ("thick 3.98 - 4.02", ["thick", ("3.98", "-", "4.02")]),
        ("thick gap-3", ["thick", ("gap", "-", "3")]),
        ("from far-far near-near 1", ["from", "far-far", "near-near", "1"]),
        ("thick 2 * gap + 1, 4", ["thick", (("2", "*", "gap"), "+", "1"), ",", "4"]),
        ("thick 2 * (gap + 1)", ["thick", ("2", "*", ("(", ("gap", "+", "1"), ")"))]),
        ("across 5-1/4in", ["across", "5-1/4in"]),
        ("across 1/4 in made 5 1/4 in", ["across", "1/4 in", "made", "5 1/4 in"]),
        ("across 6.0 in_house", ["across", "6.0", "in_house"]),
        ("clears M2.5", ["clears", "M2.5"]),
        ("from hole.3 4in", ["from", "hole.3", "4in"]),
        ("from B far-far 41.60 +- 0.05 rough", ["from", "B", "far-far", "41.60", "+-", "0.05", "rough"]),
        ("from B 4 \u00b1 0.1", ["from", "B", "4", "+-", "0.1"]),
        ("at -3, -gap", ["at", ("-", "3"), ",", ("-", "gap")]),
        ("\u201cquoted\u201d 3 \u2212 1", ['"quoted"', ("3", "-", "1")]),
    ],
)
def test_items_of_a_line(line, expected):
    assert items(line) == expected


MALFORMED = [
    ("thick 3,4", "comma-in-number"),
    ("thick 12abc", "glued-number"),
    ("thick 5mmm", "glued-number"),
    ("thick (3 + 4", "open-bracket"),
    ("thick 3 + 4)", "open-bracket"),
    ('fits "no end', "open-text"),
    ("thick 3 +", "half-a-sum"),
    ("thick 3 * * 4", "half-a-sum"),
    ("thick 3 ; 4", "odd-character"),
    ("thick", "misshapen-line"),
    ("thick 3 4", "misshapen-line"),
    ("thikc 3", "unknown-fact"),
    ("outline a", "unknown-fact"),
    ("thick " + "+".join("1" * 500), "sum-too-long"),
    ("thick " + "(" * 60 + "1" + ")" * 60, "sum-too-long"),
]


@pytest.mark.parametrize(("line", "code"), MALFORMED, ids=[f"{code} {line[:14]}" for line, code in MALFORMED])
def test_a_malformed_line_is_one_message_and_costs_no_other_line(line, code):
    text = f"block a\n    long 3\n    {line}\n    wide 4\n\npoint b\n    at 1, 2\n"
    tree, _, found = parsed(text)
    assert [(one.code, one.span.line) for one in found] == [(code, 3)]
    assert [one.name for one in tree.statements] == ["a", "b"]
    assert [fact.word for fact in tree.statements[0].facts] == ["long", "wide"]
    assert tree.statements[0].damaged
    assert not tree.statements[1].damaged


def test_heads_that_are_none():
    _, _, found = parsed("    thick 3\nbroe pivot\n    thick 3\nbore\nlet gap 3\n")
    assert [(one.code, one.span.line) for one in found] == [
        ("no-head", 1),
        ("unknown-kind", 2),
        ("misshapen-line", 4),
        ("misshapen-line", 5),
    ]
    assert "`bore`" in found[1].advice[0]


def test_any_word_may_be_a_name():
    words = sorted({*kinds(), *(word for kind in kinds().values() for word in kind.by_first)})
    text = "".join(f"point {word}\n    at 1, 2\n" for word in words)
    tree, _, found = parsed(text)
    assert found == ()
    assert [one.name for one in tree.statements] == words


@pytest.mark.parametrize(
    ("line", "values"),
    [
        ("thread inside from 1 to 9", {"mate": "inside", "start": "1"}),
        ("thread inside neck from 1 to 9", {"which": "inside", "mate": "neck", "start": "1"}),
        ("thread inside from from 1 to 9", {"which": "inside", "mate": "from", "start": "1"}),
        ("round inside at 3", {"number": "inside", "station": "3"}),
        ("round inside inside at 3", {"which": "inside", "number": "inside", "station": "3"}),
    ],
)
def test_a_name_that_could_be_a_small_word_is_read_as_what_fits(line, values):
    tree, _, found = parsed(f"turning t\n    {line}\n")
    assert found == ()
    said = dict(tree.statements[0].facts[0].values)
    assert {
        key: getattr(value, "text", None) or typed(value) for key, value in said.items() if key in values
    } == values
    assert "which" in values or "which" not in said


def test_text_to_tree_to_text_is_the_identity_and_places_are_not_compared():
    text = "bore   x # why\n\n   drill 6.0   not 6.1\n\tfrom y near 3.98,\n   4.02  # two lines\n\n\n# end\n"
    tree, written, found = parsed(text)
    assert found == ()
    again, _, _ = parsed(tree_text(tree))
    assert again == tree
    tidy = tidy_rows(written)
    assert tidy == (
        "bore x  # why\n\n    drill      6.0 not 6.1\n    from y     near 3.98, 4.02  # two lines\n\n# end\n"
    )
    assert tidy_rows(parsed(tidy)[1]) == tidy
    assert parsed(tidy)[0] == tree


def test_spans_point_at_the_words():
    _, _, found = parsed("block a\n    long 3,\n      4,  oops\n    wide 3 4\n")
    assert [(one.span.line, one.span.start, one.span.end) for one in found] == [(4, 12, 13)]


def test_a_shape_knows_its_slots_and_choices():
    shape = read_shape("from THING ~ [near|far:edges] READINGS")
    assert (shape.word, shape.lead, shape.many) == ("from", 2, False)
    assert shape.text == "from THING [near|far] READINGS"


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("4.0", 4.0, Unit.PLAIN),
        (".5", 0.5, Unit.PLAIN),
        ("3.", 3.0, Unit.PLAIN),
        ("4 mm", 4.0, Unit.LENGTH),
        ("2cm", 20.0, Unit.LENGTH),
        ("1/4in", 6.35, Unit.LENGTH),
        ("5-1/4 in", 133.35, Unit.LENGTH),
        ("1 1/2 in", 38.1, Unit.LENGTH),
        ("30 deg", 30.0, Unit.ANGLE),
        ("120 N", 120.0, Unit.FORCE),
        ("2 kg", 19.6133, Unit.FORCE),
        ("15%", 15.0, Unit.SHARE),
    ],
)
def test_numbers_with_units(text, value, unit):
    """1 in = 25.4 mm (1959); standard gravity 9.80665 m/s2 (ISO 80000-3)."""
    assert parse_number(text) == (value, unit)


@pytest.mark.parametrize("text", ["", "1/0 in", "1e5", "--3", "9" * 60])
def test_what_is_no_number(text):
    with pytest.raises(ValueError, match=r"^"):
        parse_number(text)


def test_sums_carry_uncertainty_and_the_weakest_standing():
    """JCGM 100, 5.1.2: independent inputs add in squares; a product's relative ones do."""
    a, b = Quantity(3.0, 0.3, Standing.READ), Quantity(4.0, 0.4, Standing.ABOUT)
    total = combine("+", a, b)
    assert (total.value, total.u, total.standing) == (7.0, pytest.approx(0.5), Standing.ABOUT)
    product = combine("*", a, b)
    assert product.u / product.value == pytest.approx(math.hypot(0.1, 0.1))
    quotient = combine("/", a, b)
    assert quotient.u / quotient.value == pytest.approx(math.hypot(0.1, 0.1))
    with pytest.raises(ValueError, match="added"):
        combine("+", Quantity(1.0, unit=Unit.ANGLE), Quantity(1.0, unit=Unit.LENGTH))
    with pytest.raises(ZeroDivisionError):
        combine("/", a, Quantity(0.0))
