"""Messages on a terminal: the agreed picture, and that no recipe can tear it."""

from __future__ import annotations

import re
import unicodedata

from hypothesis import given
from hypothesis import strategies as st
from makegood.diagnostics import Diagnostic, Label, Severity, Span, render_terminal
from makegood.diagnostics.cells import columns, harmless

CATCH = [f"# {number}" for number in range(1, 12)] + [
    "point hook",
    "    from pivot 15.0",
    "    from spine 2.4",
]
TWO_PLACES = Diagnostic(
    "two-places",
    Severity.ERROR,
    "hook could be in two places",
    Span(14, 5, 19),
    "both readings are met at (14.81, 2.40) and at (-14.81, 2.40)",
    advice=("say which:  right of pivot   or   left of pivot",),
)
PICTURE = """\
catch.mend:14  hook could be in two places [two-places]
  12 | point hook
  13 |     from pivot 15.0
  14 |     from spine 2.4
     |     ^^^^^^^^^^^^^^ both readings are met at (14.81, 2.40) and at (-14.81, 2.40)
  say which:  right of pivot   or   left of pivot"""
ESCAPE = re.compile(r"\x1b\[[0-9;]*m")
NASTY = st.text(st.sampled_from("aé漢\u0301\t\x1b[2J\x07\r\u202e\u200b😀\x9b\ud800 #"), max_size=40)


def _with(severity: Severity = Severity.ERROR, span: Span | None = None, **rest: object) -> Diagnostic:
    return Diagnostic("code", severity, "headline", span, **rest)  # type: ignore[arg-type]


def test_the_agreed_picture():
    assert render_terminal(TWO_PLACES, "catch.mend", CATCH, False) == PICTURE


def test_colour_only_adds_escapes_of_ours():
    painted = render_terminal(TWO_PLACES, "catch.mend", CATCH, True)
    assert painted != PICTURE
    assert ESCAPE.sub("", painted) == PICTURE


def test_weight_is_said_and_a_whole_file_has_no_line():
    assert (
        render_terminal(_with(Severity.WARNING), "a.mend", CATCH, False) == "a.mend  warning: headline [code]"
    )
    assert render_terminal(_with(Severity.NOTE), "a.mend", CATCH, False) == "a.mend  note: headline [code]"


def test_other_places_are_shown_in_file_order_with_gaps():
    lines = ["bore pivot", "    on spine"] + [""] * 20 + ["bore pivot", "    drill 4.0"]
    found = _with(span=Span(23, 6, 11), label="again here", others=(Label(Span(1, 6, 11), "first here"),))
    assert render_terminal(found, "a.mend", lines, False).splitlines()[1:] == [
        "   1 | bore pivot",
        "     |      ----- first here",
        "   ...",
        "  23 | bore pivot",
        "     |      ^^^^^ again here",
    ]


def test_a_far_head_is_not_dragged_in():
    lines = ["plate body"] + [f"    fact {number}" for number in range(30)]
    rows = render_terminal(_with(span=Span(30, 5, 9)), "a.mend", lines, False).splitlines()
    assert rows[1:] == ["  30 |     fact 28", "     |     ^^^^"]


def test_at_most_six_lines_of_the_recipe():
    lines = [f"line l{number}" for number in range(40)]
    others = tuple(Label(Span(number, 1, 5), "") for number in range(1, 40, 2))
    rows = render_terminal(_with(span=Span(20, 1, 5), others=others), "a.mend", lines, False).splitlines()
    assert sum(bool(re.match(r" +\d+ \|", row)) for row in rows) == 6
    assert any(row.startswith("  20 |") for row in rows)


def test_carets_stand_under_wide_letters():
    """Unicode Standard Annex 11: a wide letter takes two columns, a mark over a letter none."""
    line = "point 鉤e\u0301 x"
    rows = render_terminal(_with(span=Span(1, 11, 12), label="here"), "a.mend", [line], False).splitlines()
    assert rows[2] == "    | " + " " * len("point __e ") + "^ here"


def test_a_long_line_is_cut_around_its_mark():
    line = "    outline " + ", ".join(f"corner{number}" for number in range(200))
    start = line.index("corner150") + 1
    rows = render_terminal(_with(span=Span(1, start, start + 9)), "a.mend", [line], False).splitlines()
    at = rows[2].index("^")
    assert rows[1][at : at + rows[2].count("^")] == "corner150"
    assert max(map(len, rows)) < 120
    assert rows[1].endswith("...")


@given(NASTY, NASTY, NASTY, st.integers(1, 60), st.integers(0, 60))
def test_no_recipe_can_paint_or_move_the_terminal(name: str, line: str, said: str, start: int, length: int):
    found = Diagnostic("code", Severity.ERROR, said, Span(1, start, start + length), said, advice=(said,))
    shown = render_terminal(found, name, [line], False)
    assert all(unicodedata.category(mark) not in ("Cc", "Cf", "Cs") for mark in shown.replace("\n", ""))
    rows = [row for row in shown.split("\n") if "^" in row]
    assert len(rows) == 1
    assert shown.count("\n") <= 3 + len(said)


@given(NASTY, st.data())
def test_the_caret_is_under_its_letter(line: str, data: st.DataObject):
    at = data.draw(st.integers(0, max(0, len(line) - 1)))
    rows = render_terminal(_with(span=Span(1, at + 1, at + 2)), "a", [line], False).splitlines()
    assert rows[2].index("^") == columns("  1 | " + harmless(line)[:at])


def test_a_place_outside_the_text_is_survived():
    assert render_terminal(_with(span=Span(99, 1, 2)), "a.mend", ["x"], False) == "a.mend:99  headline [code]"
    assert "^" in render_terminal(_with(span=Span(1, 50, 60)), "a.mend", ["x"], False)
