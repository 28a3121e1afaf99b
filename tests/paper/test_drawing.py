"""The dimensioned drawing: what it says is what was solved, its lines mean what ISO 128 says, its texts can
be read.
"""

from __future__ import annotations

import math
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import makegood
import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from makegood.outputs.paper import drawing_sheet
from makegood.outputs.paper.lettering import font_file
from makegood.outputs.paper.marks import Area, Line, Role, Sheet, Text
from makegood.outputs.paper.notes import notes
from shapely import Polygon, STRtree, affinity, box

from .golden import PAGES, page_of
from .reading import EXAMPLES, LEVER, PAWL, RECIPES, sizes, words

SVG = "{http://www.w3.org/2000/svg}"
MOVED = re.compile(r"translate\(([-\d.]+) ([-\d.]+)\)(?: rotate\(([-\d.]+)\))? scale\(([-\d.]+)")


def _sheet(path: Path) -> Sheet:
    return drawing_sheet(makegood.compile_file(path)._scene())


def _dimensions(sheet: Sheet) -> Iterator[tuple[float, str]]:
    """Every linear dimension: how far its arrow tips are apart on paper, and its text."""
    for index, mark in enumerate(sheet.marks):
        before = sheet.marks[max(0, index - 5) : index]
        if isinstance(mark, Text) and len(before) == 5 and all(isinstance(one, Area) for one in before[3:]):
            tips = [one.rings[0][0] for one in before[3:] if isinstance(one, Area)]
            if all(isinstance(one, Line) and one.role is Role.NARROW for one in before[:3]):
                yield math.dist(*tips), mark.text


def _scale(sheet: Sheet) -> float:
    said = next(
        re.fullmatch(r"(\d+):(\d+)", one.text)
        for one in sheet.marks
        if isinstance(one, Text) and ":" in one.text and re.fullmatch(r"\d+:\d+", one.text)
    )
    return int(said[1]) / int(said[2])


def _value(text: str) -> float:
    """The number a dimension states: of a row the whole, else the first."""
    whole = re.search(r"\(= ([\d.]+)\)", text)
    return float(whole[1] if whole else re.search(r"[\d.]+", text.replace("Ø", ""))[0])


@pytest.mark.parametrize("path", [*EXAMPLES, *RECIPES], ids=lambda path: path.stem)
def test_what_a_dimension_says_is_what_it_spans(path: Path):
    sheet = _sheet(path)
    found = list(_dimensions(sheet))
    assert len(found) >= 3
    for span, text in found:
        assert span / _scale(sheet) == pytest.approx(_value(text), abs=0.0051), text


def test_dimensions_of_the_lever_are_the_solved_ones():
    path = next(one for one in EXAMPLES if one.stem == "roof-vent-lever")
    result = makegood.compile_file(path)
    at = {one.name: (one.x, one.y) for one in result.report().features}
    said = {text for _, text in _dimensions(_sheet(path))}
    for a, b in (("pin", "grip"), ("rod", "grip")):
        assert f"{round(math.dist(at[a], at[b]), 2):g} ±0.05" in said
    # between two holes the give-or-take is what all readings together say: U = 2 u, and as a limit a = u sqrt
    # 3
    known = next(one for page in result.readings().pages for one in page.spacings)
    assert {known.first, known.second} == {"pin", "rod"}
    assert f"{known.apart:.2f} ±{known.expanded / 2 * math.sqrt(3):.2f}" in said
    assert "4 ±0.05" in said  # read off the part
    assert "8 ±0.2" in said  # wanted: ISO 2768-1, class m, over 6 up to 30 mm
    wide = next(text for text in said if text == f"({round(result.figures.box[0], 2):g})")
    assert wide == "(84)"  # 7 + 71 + 6: follows from the others, so it stands in brackets
    texts = {one.text for one in _sheet(path).marks if isinstance(one, Text)}
    assert {"pin Ø6.2 ±0.1", "rod Ø5.2 ±0.1", "grip Ø12 ±0.05", "roof vent lever"} <= texts


def test_what_is_about_stands_in_brackets():
    text = 'recipe "lid"\n\nblock lid\n    long about 40\n    wide 20.0\n    thick 3.0 wanted\n'
    said = {one for _, one in _dimensions(drawing_sheet(makegood.compile_text(text)._scene()))}
    assert {"(40)", "20 ±0.05", "3 ±0.1"} <= said


@pytest.mark.parametrize(
    ("pattern", "pitches"),
    [
        ("row again\n    of hole\n    count 3\n    pitch {}10\n", {"2 × 10 ±0.2 (= 20)"}),
        (
            "grid again\n    of hole\n    count 3, 2\n    pitch {}10, {}40\n",
            {"2 × 10 ±0.2 (= 20)", "40 ±0.3"},
        ),
    ],
)
def test_a_pitch_to_the_left_or_down_has_the_size_and_tolerance_of_one_to_the_right(
    pattern: str, pitches: set[str]
):
    plate = (
        'recipe "sieve"\n\nblock plate\n    long 100.0\n'
        "    wide 100.0\n    thick 3.0\n\nbore hole\n    across 3.0\n"
        "    at 5, 3 from plate\n"
    )
    for way in ("", "-"):
        result = makegood.compile_text(plate + pattern.format(way, way))
        assert pitches <= {one for _, one in _dimensions(drawing_sheet(result._scene()))}


def test_screw_holes_have_the_grades_of_their_standard():
    """ISO 273: medium clearance holes are H13, which for 4.5 mm is +0.18/0 (ISO 286-1)."""
    text = (
        'recipe "lid"\n\nblock lid\n    long 40.0\n    wide 20.0\n    thick 3.0\n\nbore hole\n    clears M4\n'
        "    at 5, 0 from lid\n"
    )
    marks = drawing_sheet(makegood.compile_text(text)._scene()).marks
    assert "hole Ø4.5 +0.18/0" in {one.text for one in marks if isinstance(one, Text)}


def test_lines_have_the_widths_and_strokes_of_their_kind():
    """ISO 128-2: wide to narrow as 2 to 1; dashes 12 d and gaps 3 d, long dashes 24 d, dots half a d."""
    seen = set()
    for path in (*EXAMPLES, *RECIPES):
        root = ElementTree.fromstring(makegood.compile_file(path).drawing("svg"))
        rules = dict(re.findall(r"\.(\w+)\{([^}]*)\}", root.find(f"{SVG}style").text))
        for one in root.iter(f"{SVG}path"):
            if one.get("class") and one.get("class") != "area":
                seen.add(one.get("class"))
    assert seen == {"visible", "hidden", "narrow", "centre", "cut"}
    assert float(_property(rules["visible"], "stroke-width")) == 2 * float(
        _property(rules["narrow"], "stroke-width")
    )
    for name, strokes in (
        ("hidden", (12, 3)),
        ("centre", (24, 3, 0.5, 3)),
        ("visible", None),
        ("narrow", None),
    ):
        width = float(_property(rules[name], "stroke-width"))
        dashes = _property(rules[name], "stroke-dasharray")
        assert width in (0.25, 0.5)
        got = None if dashes is None else tuple(float(one) / width for one in dashes.split())
        assert got == (None if strokes is None else pytest.approx(strokes))


def _property(rule: str, name: str) -> str | None:
    found = re.search(rf"{name}:([^;]*)", rule)
    return found[1] if found else None


def _ink(root: ElementTree.Element) -> Iterator[tuple[str, Polygon]]:
    """Every text of an SVG with the quadrangle that its letters really fill, from the typeface itself."""
    fonts = {bold: TTFont(str(font_file(bold))) for bold in (False, True)}
    for group in root.iter(f"{SVG}g"):
        said = group.get("aria-label")
        moved = MOVED.match(group.get("transform"))
        starts = [float(one.get("x")) for one in group.iter(f"{SVG}use")]
        font = fonts[said in (root.find(f"{SVG}title").text,)]
        boxes = []
        for letter, start in zip(said.replace(" ", ""), starts, strict=True):
            pen = BoundsPen(font.getGlyphSet())
            font.getGlyphSet()[font.getBestCmap()[ord(letter)]].draw(pen)
            boxes.append(box(start + pen.bounds[0], pen.bounds[1], start + pen.bounds[2], pen.bounds[3]))
        left, low, right, high = (
            f(one.bounds[k] for one in boxes) for k, f in enumerate((min, min, max, max))
        )
        x, y, turn, scale = float(moved[1]), float(moved[2]), float(moved[3] or 0), float(moved[4])
        shape = affinity.scale(box(left, low, right, high), scale, -scale, origin=(0, 0))
        yield said, affinity.translate(affinity.rotate(shape, turn, origin=(0, 0)), x, y)


@pytest.mark.parametrize("path", [*EXAMPLES, *RECIPES], ids=lambda path: path.stem)
def test_no_text_lies_on_another_or_leaves_the_border(path: Path):
    root = ElementTree.fromstring(makegood.compile_file(path).drawing("svg"))
    wide, high = (float(root.get(name).removesuffix("mm")) for name in ("width", "height"))
    texts = list(_ink(root))
    assert len(texts) > 15
    border = box(10, 10, wide - 10, high - 10)
    tree = STRtree([shape for _, shape in texts])
    for number, (said, shape) in enumerate(texts):
        assert border.contains(shape), said
        for other in tree.query(shape):
            if other != number:
                assert shape.intersection(texts[other][1]).area < 1e-6, (said, texts[other][0])


def test_pdf_and_png_have_the_sheet_of_the_svg():
    result = makegood.compile_file(PAWL)
    assert sizes(result.drawing("pdf")) == [pytest.approx((297.0, 210.0), abs=0.01)]
    said = words(result.drawing("pdf"))[0]
    assert "hose-reel pawl, left hand" in said
    assert "29.75 ±0.05" in said
    png = result.drawing("png")
    assert (int.from_bytes(png[16:20]), int.from_bytes(png[20:24])) == (
        round(297 / 25.4 * 150),
        round(210 / 25.4 * 150),
    )
    with pytest.raises(ValueError, match="svg, pdf or png"):
        result.drawing("bmp")


def test_what_finds_no_place_is_listed():
    """Forty holes read one by one from the same corner can't all have a dimension line, but none is passed
    over.
    """
    holes = "".join(
        f"\nbore h{i}\n    drill 2.0 not 2.1\n    from lid.left near {3 + 4.3 * i:.1f}\n"
        f"    from lid.bottom near {2 + 1.1 * (i % 17):.1f}\n"
        for i in range(40)
    )
    result = makegood.compile_text(
        'recipe "comb"\n\nblock lid\n    long 190.0\n    wide 30.0\n    thick 3.0\n' + holes
    )
    assert result.ok
    sheet = drawing_sheet(result._scene())
    texts = [one.text for one in sheet.marks if isinstance(one, Text)]
    named = sum(any(text.startswith(f"h{i} ") for text in texts) for i in range(40))
    more = [text for text in texts if re.fullmatch(r"and \d+ more.*", text)]
    assert named == 40 or more


def test_names_with_accents_and_foreign_letters_are_drawn():
    text = 'recipe "Deckel <für> & Łódź Ж λ 箱"\n\nblock ähre\n    long 40.0\n    wide 20.0\n    thick 3.0\n'
    result = makegood.compile_text(text)
    root = ElementTree.fromstring(result.drawing("svg"))
    assert "Deckel <für> & Łódź Ж λ ?" in {group.get("aria-label") for group in root.iter(f"{SVG}g")}
    assert "Łódź Ж λ" in words(result.drawing("pdf"))[0]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_are_drawn_as_they_were_looked_at(path: Path):
    assert page_of(path) == (PAGES / f"{path.stem}.txt").read_text(encoding="utf-8")


def test_the_same_bytes_in_another_process():
    code = (
        "import hashlib, sys, makegood; r = makegood.compile_file(sys.argv[1]);"
        "print([hashlib.sha256(b).hexdigest() for b in "
        "(*map(r.drawing, ('svg', 'pdf', 'png')), r.picture())])"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", code, str(LEVER)],
            capture_output=True,
            check=True,
            text=True,
            env={"PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2", "3")
    }
    assert len(runs) == 1


def test_the_order_of_writing_does_not_reach_the_drawing():
    text = LEVER.read_text(encoding="utf-8")
    head, *blocks = re.split(r"\n\n(?=\S)", text.strip())
    turned = "\n\n".join([head, *reversed(blocks)]) + "\n"
    assert turned != text
    one, two = (makegood.compile_text(some, "a.mend").drawing("svg") for some in (text, turned))
    assert one == two


def test_making_a_part_loads_none_of_it(tmp_path: Path):
    code = (
        "import sys; from makegood.cli import main; main(['make', sys.argv[1], '-o', sys.argv[2]]); "
        "print(sorted({'reportlab', 'PIL', 'fontTools', 'makegood.outputs.paper'} & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(LEVER), str(tmp_path / "a.3mf")],
        capture_output=True,
        text=True,
        check=True,
    )
    assert (tmp_path / "a.3mf").stat().st_size > 0
    assert done.stdout.splitlines()[-1] == "[]"


@pytest.mark.parametrize("turned", ["", "    other hand\n"])
def test_both_heights_of_what_slopes_are_drawn(turned: str):
    """A block that tapers from 8 to 4, its foot cut by a plane that leans from 1.5 to 0.5: four heights where
    they were read.

    What a dimension says is what it spans (above), so the text is the answer."""
    text = (
        f'recipe "wedge"\n{turned}\nblock wedge\n    long 40.0\n'
        "    wide 20.0\n    taper 8.0 at left, 4.0 at right\n"
    )
    text += "    trim sole\nplane sole\n    leans 1.5 at wedge.top, 0.5 at wedge.bottom from wedge.back\n"
    sheet = drawing_sheet(makegood.compile_text(text)._scene())
    said = dict((one, span / _scale(sheet)) for span, one in _dimensions(sheet))
    for one, value in (("8 ±0.2", 8.0), ("4 ±0.1", 4.0), ("1.5 ±0.1", 1.5), ("0.5 ±0.1", 0.5)):
        assert said[one] == pytest.approx(value, abs=0.0051)


def test_each_eased_edge_of_a_turning_is_told_at_its_own_station():
    """The leader of a bevel ends at the edge that was bevelled, not at another of the same turning; rounds
    are told, too.
    """
    text = (
        'recipe "reel"\n\nturning reel\n    across 30.0 from 0 to 12.0\n    across 18.0 from 12.0 to 20.0\n'
    )
    text += "    bored 8.0 from 0 to 20.0\n    bevel 0.8 at 20.0\n    bevel 0.5 at 0\n    round 1 at 12.0\n"
    text += "    bevel inside 0.6 at 0\n"
    told = {one.text: one.at for one in notes(makegood.compile_text(text)._scene())}
    for said, off, height, size in (
        ("0.8 × 45°", 9.0, 20.0, 0.8),
        ("0.5 × 45°", 15.0, 0.0, 0.5),
        ("R1", 15.0, 12.0, 1.0),
        ("0.6 × 45°", 4.0, 0.0, 0.6),
    ):
        x, y, z = told[said]
        assert abs(z - height) <= size + 1e-3
        assert abs(math.hypot(x - 15.0, y - 15.0) - off) <= size + 0.02
