"""The paper template, measured as a person would: on the page that a printer gets."""

from __future__ import annotations

import math
import subprocess
import sys
from pathlib import Path

import makegood
import numpy as np
import pytest
from makegood.outputs.paper import template_sheets
from makegood.outputs.paper.lettering import text_box
from makegood.outputs.paper.marks import Arc, Line, Role, Sheet, Text
from makegood.result import Result
from scipy import ndimage
from shapely import MultiPolygon, Polygon, box

from .reading import (
    DOT,
    EXAMPLES,
    LEVER,
    PAWL,
    RECIPES,
    cross_middle,
    ink_middle,
    scans,
    shadow_of,
    sizes,
    words,
)

TRAY = """recipe "drawer tray"

block tray
    long 400.0
    wide 260.0
    thick 3.0

bore a
    across 8.0
    at -180, -110 from tray

bore b
    across 8.0
    at 180, -110 from tray

bore c
    across 8.0
    at -180, 110 from tray

bore d
    across 8.0
    at 180, 110 from tray
"""


def _sheets(result: Result, paper: str = "a4") -> list[Sheet]:
    return template_sheets(result._scene(), paper)


def _centres(sheet: Sheet) -> list[tuple[float, float]]:
    """Where two narrow strokes of one length cross in their middles."""
    strokes = [
        one.points
        for one in sheet.marks
        if isinstance(one, Line) and one.role is Role.NARROW and len(one.points) == 2
    ]
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in strokes]
    return sorted(
        {
            (round(x, 6), round(y, 6))
            for i, (x, y) in enumerate(middles)
            if any(math.dist((x, y), other) < 1e-6 for other in middles[:i])
        }
    )


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_check_bars_are_100_and_50_mm(paper: str):
    pdf = makegood.compile_file(PAWL).template(paper)
    assert sizes(pdf)[0] == pytest.approx((210.0, 297.0) if paper == "a4" else (215.9, 279.4), abs=0.01)
    scan = scans(pdf)[0]
    for ink, long in ((scan, 100.0), (scan.T, 50.0)):
        row, start, stop = _longest_run(ink[: round(90 / DOT)], round(long / DOT))
        # the end strokes stand across the bar: measured clear of it and of what is written beside it
        ends = [
            ink_middle(ink, at - 1, (row * DOT) - 2.2, at + 1, (row * DOT) - 1.2, "x")
            for at in (start * DOT, stop * DOT)
        ]
        assert ends[1] - ends[0] == pytest.approx(long, abs=0.1)
    assert "print at 100 %" in words(pdf)[0]


def _longest_run(ink: np.ndarray, about: int) -> tuple[int, int, int]:
    for row in range(len(ink)):
        edges = np.flatnonzero(np.diff(np.concatenate([[0], ink[row] > 0.4, [0]]).astype(int)))
        for start, stop in zip(edges[0::2], edges[1::2], strict=True):
            if abs(stop - start - about) < 1.0 / DOT:
                return row, int(start), int(stop)
    raise AssertionError("no bar")


@pytest.mark.parametrize("name", ["hose-reel-pawl", "roof-vent-lever", "wardrobe-rail-bracket"])
def test_hole_centres_lie_where_they_were_solved(name: str):
    result = makegood.compile_file(next(path for path in EXAMPLES if path.stem == name))
    scan = scans(result.template())[0]
    sheet = _sheets(result)[0]
    holes = [one for one in result.report().features if one.kind == "bore" and one.plane == "sheet"]
    centres = _centres(sheet)
    assert len(holes) == 2
    # the first hole is found by where its mates lie from it; all are then measured in the scan
    found = [start for start in centres if all(_near(centres, start, one, holes[0]) for one in holes[1:])]
    assert len(found) == 1
    read = []
    for hole in holes:
        x, y = found[0][0] + hole.x - holes[0].x, found[0][1] + hole.y - holes[0].y
        read.append(cross_middle(scan, x, y, 0.12 * hole.across, 0.25 * hole.across, 0.2 * hole.across))
        assert read[-1] == pytest.approx((x, y), abs=0.1)
    for hole, place in zip(holes[1:], read[1:], strict=True):
        seen = (place[0] - read[0][0], place[1] - read[0][1])
        assert seen == pytest.approx((hole.x - holes[0].x, hole.y - holes[0].y), abs=0.1)


def _near(centres: list[tuple[float, float]], start: tuple[float, float], one: object, first: object) -> bool:
    goal = (start[0] + one.x - first.x, start[1] + one.y - first.y)
    return any(math.dist(goal, place) < 0.01 for place in centres)


@pytest.mark.parametrize("path", [*EXAMPLES, *RECIPES], ids=lambda path: path.stem)
def test_outlines_are_the_shadows_that_another_library_finds(path: Path):
    result = makegood.compile_file(path)
    scene = result._scene()
    for view, _ in scene.views():
        rings = [Polygon(one) for one in view.outline(result.part.mesh)]
        area = sum(one.area * (1 if one.exterior.is_ccw else -1) for one in rings)
        assert area == pytest.approx(shadow_of(result, view.right, view.up).area, rel=1e-4)


@pytest.mark.parametrize(
    "name", ["roof-vent-lever", "hose-reel-pawl", "wardrobe-rail-bracket", "humidity-dial"]
)
def test_the_printed_outline_encloses_the_true_area(name: str):
    """What the wide line encloses on the page, to its outer side; letters and arms of crosses are rubbed out
    first.
    """
    result = makegood.compile_file(next(path for path in EXAMPLES if path.stem == name))
    scan = scans(result.template())[0]
    view, _ = result._scene().views()[0]
    truth = shadow_of(result, view.right, view.up)
    truth = truth if isinstance(truth, Polygon) else max(MultiPolygon(truth).geoms, key=lambda one: one.area)
    outer = Polygon(truth.exterior).buffer(Role.VISIBLE.width / 2)
    outside, _ = ndimage.label(scan < 0.5)
    kept = outside != outside[0, 0]
    reach = round(0.5 / DOT)
    worn = ndimage.distance_transform_edt(kept) > reach
    pieces, count = ndimage.label(ndimage.distance_transform_edt(~worn) <= reach)
    areas = ndimage.sum_labels(np.ones_like(pieces), pieces, range(1, count + 1)) * DOT**2
    assert min(abs(areas / outer.area - 1)) < 0.002


def test_a_part_larger_than_a_sheet_goes_together_by_its_register_marks():
    result = makegood.compile_text(TRAY)
    assert result.ok
    sheets, pages = _sheets(result), scans(result.template())
    assert len(sheets) == len(pages) > 2
    holes = {(one.x, one.y): one for one in result.report().features if one.kind == "bore"}
    seen: dict[int, list[tuple[int, float, float]]] = {}
    for number, sheet in enumerate(sheets):
        for index, mark in enumerate(sheet.marks):
            if isinstance(mark, Arc) and mark.radius == 2.0:
                label = sheet.marks[index + 3]
                assert isinstance(label, Text)
                place = cross_middle(pages[number], *mark.centre, 2.3, 3.8)
                seen.setdefault(int(label.text), []).append((number, *place))
    assert all(len(places) >= 2 for places in seen.values()), "each mark is on both its sheets"
    shifts = {0: (0.0, 0.0)}
    while len(shifts) < len(sheets):
        before = len(shifts)
        for places in seen.values():
            known = [one for one in places if one[0] in shifts]
            for page, x, y in places if known else []:
                first = known[0]
                shift = (first[1] + shifts[first[0]][0] - x, first[2] + shifts[first[0]][1] - y)
                assert shifts.setdefault(page, shift) == pytest.approx(shift, abs=0.1)
        assert len(shifts) > before, "a sheet hangs on none of the others"
    read = {}
    for number, sheet in enumerate(sheets):
        for x, y in _centres(sheet):
            if not any(isinstance(one, Arc) and math.dist(one.centre, (x, y)) < 0.1 for one in sheet.marks):
                at = cross_middle(pages[number], x, y, 1.0, 3.0)
                read[round(at[0] + shifts[number][0], 0), round(at[1] + shifts[number][1], 0)] = (
                    at[0] + shifts[number][0],
                    at[1] + shifts[number][1],
                )
    corner = min(read.values(), key=sum)
    found = sorted((round(x - corner[0], 1), round(y - corner[1], 1)) for x, y in read.values())
    first = min(holes, key=sum)
    wanted = sorted((x - first[0], y - first[1]) for x, y in holes)
    assert len(found) >= len(wanted)
    for place in wanted:
        assert any(math.dist(place, one) < 0.2 for one in found), (place, found)


@pytest.mark.parametrize("path", [*EXAMPLES, *RECIPES], ids=lambda path: path.stem)
def test_texts_keep_clear_of_one_another_and_of_the_margin(path: Path):
    result = makegood.compile_file(path)
    for sheet in _sheets(result):
        boxes = [text_box(one) for one in sheet.marks if isinstance(one, Text)]
        for i, a in enumerate(boxes):
            assert box(5, 5, sheet.width - 5, sheet.height - 5).contains(box(*a))
            for b in boxes[:i]:
                assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_names_print_with_their_accents():
    text = TRAY.replace("drawer tray", "Größe für Łódź").replace("bore a\n", "bore schließblech_ä\n")
    said = "".join(words(makegood.compile_text(text).template()))
    assert "Größe für Łódź" in said
    assert "schließblech_ä" in said


def test_the_same_bytes_in_another_process(tmp_path: Path):
    code = "import sys, makegood; sys.stdout.buffer.write(makegood.compile_file(sys.argv[1]).template())"
    runs = {
        subprocess.run(
            [sys.executable, "-c", code, str(LEVER)],
            capture_output=True,
            check=True,
            env={"PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(runs) == 1
    assert runs.pop() == makegood.compile_file(LEVER).template()


def test_a_wrong_recipe_gives_no_template():
    with pytest.raises(ValueError, match="no part to draw"):
        makegood.compile_text("plate p\n").template()
