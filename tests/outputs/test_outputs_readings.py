"""What `readings` says of a recipe, against closed forms (JCGM 100:2008, 5; Baarda 1968) worked by hand."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from pathlib import Path

import makegood
import pytest
from makegood.outputs.readings import readings_json, readings_text
from makegood.places.reading_weights import Weighed, WeighedPlane

EXAMPLES = Path(__file__).parents[2] / "examples"
U = 0.05 / math.sqrt(3)  # of a reading with +-0.05
DRILL = 0.1 / math.sqrt(3)  # of a drill that goes, the next a tenth larger not

PLATE = """recipe "plate"
    readings +-0.05
block body
    long 40.0
    wide 20.0
    thick 3.0
bore a
    drill 4.0 not 4.1
    from body.left near 8.0
    from body.left far {far}
    from body.bottom centre {height}
"""


def weighed(text: str) -> Weighed:
    return makegood.compile_text(text).readings()


def page(text: str) -> WeighedPlane:
    (one,) = weighed(text).pages
    return one


def test_near_and_far_of_a_drilled_hole_by_hand():
    """x - d/2 = 8.00, x + d/2 = 12.03, d = 4.0: x is the mean of the two edges, u(x) = u / sqrt 2; the misfit
    of 0.03 in far less near less d has the variance 2 u^2 + v^2, of which each edge takes its own u^2:
    residual -+0.03 u^2 / that."""
    one = page(PLATE.format(far="12.03", height="10.0"))
    (place,) = [one for one in one.places if one.name == "a"]
    across = {(row.name, row.text): row for row in one.readings}
    near, far = across["a", "from body.left near 8.0"], across["a", "from body.left far 12.03"]
    drill, height = across["a", "drill 4.0 not 4.1"], across["a", "from body.bottom centre 10.0"]
    whole = 2 * U**2 + DRILL**2
    assert far.residual == pytest.approx(-0.03 * U**2 / whole, abs=1e-6)
    assert near.residual == pytest.approx(0.03 * U**2 / whole, abs=1e-6)
    assert drill.residual == pytest.approx(0.03 * DRILL**2 / whole, abs=1e-6)
    assert far.redundancy == pytest.approx(U**2 / whole, abs=1e-6)
    assert far.slip == pytest.approx(4.13 * math.sqrt(whole), rel=1e-4)
    assert height.verdict == "unchecked"
    assert math.isinf(height.slip)
    assert height.moves == pytest.approx(0.1, abs=1e-6)
    assert place.expanded == pytest.approx(2 * U, abs=1e-6)  # up and down: one reading; across: U / sqrt 2
    assert place.worst == pytest.approx(90.0, abs=1e-6)
    assert [(one.text, round(one.share, 3)) for one in place.by] == [("from body.bottom centre 10.0", 1.0)]
    assert one.freedoms == 1
    assert one.total == pytest.approx(0.03**2 / whole, rel=1e-3)
    (double,) = one.doubles
    assert double.difference == pytest.approx(4.03)
    assert double.sizes == pytest.approx(4.0)
    assert double.give == pytest.approx(math.sqrt(3) * math.sqrt(whole))
    assert double.agrees


def test_a_misread_edge_is_marked_also_where_the_recipe_is_refused():
    text = PLATE.format(far="13.03", height="10.0")
    assert not makegood.compile_text(text).ok
    one = page(text)
    assert not one.agrees
    suspects = {row.text for row in one.readings if row.verdict == "suspect"}
    assert suspects >= {"from body.left near 8.0", "from body.left far 13.03"}
    assert "SUSPECT" in readings_text(Weighed((one,), ()), "plate")
    assert not one.doubles[0].agrees


def test_spacing_and_wall_of_two_holes_by_hand():
    """a and b read from the left edge, centre and centre: u(spacing) = sqrt 2 u; the wall takes half of each
    diameter off.
    """
    text = PLATE.format(far="12.0", height="10.0").replace(
        "    from body.left near 8.0\n    from body.left far 12.0\n", "    from body.left centre 10.0\n"
    )
    text += "bore b\n    drill 3.0 not 3.1\n    from body.left centre 22.97\n    level with a\n"
    one = page(text)
    (gap,) = one.spacings
    assert (gap.apart, gap.wall) == (pytest.approx(12.97), pytest.approx(12.97 - 3.5))
    assert gap.expanded == pytest.approx(2 * math.sqrt(2) * U, abs=1e-6)
    assert gap.wall_expanded == pytest.approx(
        2 * math.hypot(math.sqrt(2) * U, DRILL / 2, DRILL / 2), abs=1e-6
    )
    (offer,) = [offer for offer in one.rounds if offer.what == "a to b"]
    assert offer.offer == "13"
    assert offer.accept == "from a centres 13 wanted   (in b)"
    accepted = text + "    from a centres 13 wanted\n"
    result = makegood.compile_text(accepted)
    assert result.ok
    spots = result.layout.spots
    assert math.dist(spots["a"].at, spots["b"].at) == pytest.approx(13.0, abs=1e-5)
    assert "as wanted" in readings_text(result.readings(), "plate")


def test_a_size_that_the_places_lean_on_is_known_better_by_them():
    """d read 4.00 (u v) and far less near 4.05 (u sqrt 2 u): the weighted mean of the two (JCGM 100,
    F.2.3.3).
    """
    (size,) = [
        one
        for one in weighed(PLATE.format(far="12.05", height="10.0")).sizes
        if (one.name, one.word) == ("a", "drill")
    ]
    a, b = 1 / DRILL**2, 1 / (2 * U**2)
    assert size.fitted == pytest.approx((4.0 * a + 4.05 * b) / (a + b), abs=1e-5)
    assert size.read == 4.0


def test_a_nearly_straight_triangle_is_weak_and_the_edge_would_help():
    """Legs 30 and 30.05 over a base of 60: the height is about 1, so a tenth in a leg moves the tip by 1.5 or
    so.
    """
    text = """recipe "weak"
    readings +-0.05
    laid back at the bottom, a left of b
line back
bore a
    drill 4.0 not 4.1
    on back
bore b
    drill 4.0 not 4.1
    on back
    from a centres 60.0
point tip
    from a 30.02
    from b 30.02
    above back
plate body
    thick 3
    outline a_end, tip, b_end
round a_end
    around a
    across 12
round b_end
    around b
    across 12
"""
    one = page(
        text.replace("from a 30.02", "from a centre 30.02").replace("from b 30.02", "from b centre 30.02")
    )
    height = math.sqrt(30.02**2 - 30.0**2)
    (weak,) = [weak for weak in one.weak if weak.moved == "tip"]
    assert weak.moves >= 0.1 * 30.02 / height / 2
    assert weak.better == "from back ..."
    assert weak.expanded < 0.2


@pytest.mark.parametrize("name", [path.stem for path in sorted(EXAMPLES.glob("*.mend"))])
def test_the_examples_agree_and_say_so(name: str):
    result = makegood.compile_file(EXAMPLES / f"{name}.mend")
    found = result.readings()
    assert all(one.agrees and double.agrees for one in found.pages for double in one.doubles)
    said = json.loads(readings_json(found, result.title))
    assert set(said) == {"title", "pages", "sizes", "measured"}
    assert readings_text(found, result.title).endswith("\n")


def test_double_readings_of_the_pawl_and_the_bracket_against_their_drills():
    """The figures are those of the two parts as read: far-far less near-near against the drills that go."""
    found = {}
    for name in ("hose-reel-pawl", "wardrobe-rail-bracket"):
        for one in makegood.compile_file(EXAMPLES / f"{name}.mend").readings().pages:
            found.update(
                {(double.name, double.other): (double.difference, double.sizes) for double in one.doubles}
            )
    wanted = {
        ("pivot", "back"): (11.05 - 4.95, 6.1),
        ("spring", "pivot"): (16.20 - 8.10, 6.1 + 2.0),
        ("upper", "wall.top"): (10.1 - 5.9, 4.2),
        ("lower", "upper"): (34.2 - 25.8, 4.2 + 4.2),
    }
    assert set(found) == set(wanted)
    for key, pair in wanted.items():
        assert found[key] == pytest.approx(pair)


def test_the_command_prints_the_table_and_the_json(tmp_path: Path):
    command = [sys.executable, "-m", "makegood", "readings", str(EXAMPLES / "hose-reel-pawl.mend")]
    text = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    assert "from pivot far-far 16.20" in text
    assert "16.20" in text
    said = json.loads(subprocess.run([*command, "--json"], capture_output=True, text=True, check=True).stdout)
    assert said["pages"][0]["redundant"] == 3
    assert said["sizes"]["body.thick"] == {
        "made": 8.0,
        "read": 8.0,
        "fitted": None,
        "standing": "read",
        "over": 1,
        "u": pytest.approx(U, abs=1e-6),
        "U": pytest.approx(2 * U, abs=1e-6),
    }


def test_the_json_has_one_shape_for_good_recipes_and_wrong_ones(tmp_path: Path):
    shapes = []
    for text in (
        'recipe "good"\nblock b\n    long 9\n    wide 9\n    thick 3\n',
        'recipe "wrong"\nblock b\n    long nine\n',
    ):
        path = tmp_path / "one.mend"
        path.write_text(text, encoding="utf-8")
        command = [sys.executable, "-m", "makegood", "readings", "--json", str(path)]
        told = subprocess.run(command, capture_output=True, text=True, check=False)
        said = json.loads(told.stdout)
        assert said["ok"] is (told.returncode == 0)
        shapes.append(sorted(said))
    assert shapes[0] == shapes[1] == ["diagnostics", "file", "measured", "ok", "pages", "sizes", "title"]


def test_order_of_writing_changes_no_figure():
    text = PLATE.format(far="12.03", height="10.0")
    head, facts = text.split("bore a\n")
    lines = facts.strip("\n").split("\n")
    other = f"bore a\n{chr(10).join(reversed(lines))}\n"
    turned = head.split("block")[0] + other + "block" + head.split("block")[1]
    assert readings_json(weighed(text), "x") == readings_json(weighed(turned), "x")
