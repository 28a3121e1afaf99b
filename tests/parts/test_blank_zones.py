"""Zones of a mesh that was brought in: its surface as seen from one side moves, whatever its shape."""

from __future__ import annotations

import math
from itertools import permutations
from pathlib import Path

import makegood
import numpy as np
import pytest
import trimesh
from makegood.outputs import threemf_bytes
from makegood.result import Result

from .making import inside, said, sound

HERE = "point here\n    at 0, 0 from old\n"
ROUND = math.pi * 16.0  # mm2: the area of a collar of 8 overall
SHORT = 0.01 * math.pi * 8.0  # mm2 by which its facets may fall short (chord x rim)
CONE = (
    math.pi * (16.0 + 4.0 * 7.0 + 49.0) / 3.0
)  # mm3 for each mm of height: a frustum with a ramp of 3 round the collar


def compiled(folder: Path, mesh: trimesh.Trimesh, text: str, facts: str = "") -> Result:
    mesh.export(folder / "old.stl", file_type="stl")
    here = HERE if "here" in text else ""
    return makegood.compile_text(f'recipe "m"\n\nblank old "old.stl"\n{facts}\n{here}\n{text}', folder=folder)


def zone(kind: str, face: str, *facts: str) -> str:
    return "\n    ".join((f"{kind} pad", f"on {face}", "collar here to 8 overall", *facts)) + "\n"


def bodies() -> dict[str, trimesh.Trimesh]:
    """A plate, a ball, a cup lying on its side, and a bridge of two storeys: what is behind must not move
    with it.
    """
    cup = trimesh.creation.annulus(7.0, 9.0, 20.0, sections=64)
    cup.apply_transform(trimesh.transformations.rotation_matrix(math.pi / 2, (1, 0, 0)))
    floors = [
        trimesh.creation.box((30, 20, 2), trimesh.transformations.translation_matrix((0, 0, z)))
        for z in (0, 10)
    ]
    post = trimesh.creation.box((3, 20, 8), trimesh.transformations.translation_matrix((13.5, 0, 5)))
    return {
        "plate": trimesh.creation.box((40, 20, 6)),
        "ball": trimesh.creation.icosphere(3, 10.0),
        "cup": cup,
        "bridge": trimesh.boolean.union([*floors, post], engine="manifold"),
    }


@pytest.mark.parametrize("name", sorted(bodies()))
@pytest.mark.parametrize("face", ["old.front", "old.back"])
def test_a_zone_moves_as_much_as_its_area_says(name: str, face: str, tmp_path: Path) -> None:
    """The seen surface is a graph over the collar, so the volume is area x height, whatever lies behind
    it.
    """
    mesh = bodies()[name]
    for kind, sign in (("thicken", 1.0), ("relieve", -1.0)):
        for facts, area in ((("by 1.5",), ROUND), (("by 1.5", "ramp 3"), CONE)):
            result = compiled(tmp_path, mesh, zone(kind, face, *facts))
            assert said(result) == [], (kind, facts)
            sound(result)
            moved = sign * (result.figures.volume - mesh.volume)
            assert moved == pytest.approx(1.5 * area, abs=1.5 * 3 * SHORT), (kind, facts)
            assert ("pad", face.partition(".")[2]) in result.part.faces


def test_both_faces_at_once_and_to_a_height(tmp_path: Path) -> None:
    plate = bodies()["plate"]
    both = compiled(tmp_path, plate, zone("thicken", "old", "to 10 overall"))
    assert said(both) == []
    assert both.figures.box == (40.0, 20.0, 10.0)
    assert both.figures.volume == pytest.approx(4800 + 4 * ROUND, abs=4 * SHORT)
    thin = compiled(tmp_path, plate, zone("relieve", "old.front", "to 5 overall"))
    assert thin.figures.volume == pytest.approx(4800 - ROUND, abs=SHORT)


def test_a_worn_hollow_is_filled_up_to_the_flat(tmp_path: Path) -> None:
    """A plate with a ball-shaped dip of height 1: `to` the thickness of the plate fills it, and nothing
    else.
    """
    plate = trimesh.creation.box((40, 20, 6))
    ball = trimesh.creation.icosphere(4, 5.0)
    ball.apply_translation((0, 0, 7.0))
    worn = trimesh.boolean.difference([plate, ball], engine="manifold")
    result = compiled(tmp_path, worn, zone("thicken", "old.front", "to 6 overall"))
    assert said(result) == []
    assert worn.volume < 4790
    assert result.figures.volume == pytest.approx(4800, rel=1e-6)
    assert result.figures.box == (40.0, 20.0, 6.0)


def test_a_ball_gets_a_flat_seat(tmp_path: Path) -> None:
    """Cut to 18 of 20 overall a ball of radius 10 loses what of its cap of height 2 lies in the collar."""
    ball = trimesh.creation.icosphere(5, 10.0)
    result = compiled(tmp_path, ball, zone("relieve", "old.front", "to 18 overall"))
    # over the disc of radius 4: the integral of sqrt(100 - r2) - 8
    lost = 2 * math.pi / 3 * (1000 - (100 - 16) ** 1.5) - 8 * ROUND
    assert ball.volume - result.figures.volume == pytest.approx(lost, rel=0.02)


def test_it_never_leaves_the_silhouette(tmp_path: Path) -> None:
    """A collar wider than the ball, as the warning says: the whole front moves, the box grows only that way;
    from below nothing is seen.
    """
    ball = bodies()["ball"]
    result = compiled(tmp_path, ball, zone("thicken", "old.front", "by 2").replace("8 overall", "30 overall"))
    assert [one.code for one in result.diagnostics] == ["zone-cut-off"]
    sound(result)
    assert result.figures.box == pytest.approx((20.0, 20.0, 22.0), abs=1e-5)
    flat = trimesh.path.polygons.projected(ball, (0, 0, 1)).area
    assert result.figures.volume - ball.volume == pytest.approx(2 * flat, rel=1e-5)
    result = compiled(tmp_path, ball, zone("relieve", "old.front", "by 2").replace("8 overall", "30 overall"))
    assert said(result) == []
    # what is left of the ball where it is thicker than 2, lowered: the ball and itself 2 lower, common volume
    # of a lens
    assert result.figures.volume == pytest.approx(math.pi * (4 * 10 + 2) * (2 * 10 - 2) ** 2 / 12, rel=0.01)


def test_a_cups_inside_stays(tmp_path: Path) -> None:
    """Seen from the front the upper wall of the lying cup gets thicker; neither its bore nor the lower wall
    does.
    """
    result = compiled(tmp_path, bodies()["cup"], zone("thicken", "old.front", "by 1.5"))
    x, y = 9.0, 10.0
    heights = (1.0, 2.5, 15.5, 17.0, 19.0, 19.6)
    assert inside(result, *((x, y, z) for z in heights)) == [True, False, False, True, True, False]


def test_zones_that_overlap_give_the_greatest_and_relief_cuts_both(tmp_path: Path) -> None:
    plate = bodies()["plate"]
    low = zone("thicken", "old.front", "by 1").replace("thicken pad", "thicken first")
    high = zone("thicken", "old.front", "by 2").replace("8 overall", "4 overall")
    result = compiled(tmp_path, plate, low + "\n" + high)
    assert result.figures.volume == pytest.approx(4800 + ROUND + 0.25 * ROUND, abs=3 * SHORT)
    cut = (
        zone("relieve", "old.front", "by 1")
        .replace("relieve pad", "relieve dip")
        .replace("8 overall", "4 overall")
    )
    result = compiled(tmp_path, plate, low + "\n" + high + "\n" + cut)
    assert result.figures.volume == pytest.approx(4800 + 0.75 * ROUND - 0.25 * ROUND, abs=3 * SHORT)


def test_bands_and_shapes(tmp_path: Path) -> None:
    """A band along a line over the whole plate, and the inside of a rectangle."""
    text = (
        "line middle\n    midway old.bottom, old.top\n\n"
        "thicken rib\n    on old.front\n    along middle wide 4\n    by 1\n\n"
        "rectangle patch\n    wide 6\n    high 10\n    from old.left near 2\n    from old.bottom near 1\n\n"
        "relieve dip\n    on old.back\n    inside patch\n    by 0.5\n"
    )
    result = compiled(tmp_path, bodies()["plate"], text)
    assert said(result) == []
    assert result.figures.volume == pytest.approx(4800 + 160 - 30, rel=1e-9)


def test_what_can_not_be_is_answered(tmp_path: Path) -> None:
    plate = bodies()["plate"]
    far = HERE.replace("0, 0", "90, 0").replace("here", "away")
    for text, code in (
        (zone("relieve", "old.front", "by 6"), "zone-too-deep"),
        (zone("thicken", "old.left", "by 1"), "edge-on"),
        (zone("thicken", "old.front", "to 6 overall"), "zone-does-nothing"),
        (zone("thicken", "old.front", "to 7 overall", "ramp 2"), "ramp-too-long"),
        (
            far + "\n" + zone("thicken", "old.front", "by 1").replace("collar here", "collar away"),
            "zone-outside",
        ),
    ):
        found = [one for one in compiled(tmp_path, plate, text).diagnostics if one.is_error]
        assert [one.code for one in found] == [code]
        assert found[0].span is not None
        assert code == "zone-outside" or "pad" in found[0].headline or "old.left" in found[0].headline


def test_order_never_matters_and_the_same_text_gives_the_same_bytes(tmp_path: Path) -> None:
    ball = bodies()["ball"]
    parts = [
        zone("thicken", "old.front", "by 1.5", "ramp 2"),
        zone("relieve", "old.back", "by 1").replace("pad", "dip"),
        "bore eye\n    drill 3.0\n    around here\n",
    ]
    made = [compiled(tmp_path, ball, "\n".join(order), "    turned 20\n") for order in permutations(parts)]
    assert made[0].ok, said(made[0])
    assert len({threemf_bytes(one.mesh, one.card, one.title) for one in made}) == 1


def test_a_mesh_of_many_facets_takes_a_zone(tmp_path: Path) -> None:
    """Eighty thousand facets, rough as a scan: the layer has the height, and the body is closed."""
    ball = trimesh.creation.icosphere(6, 10.0)
    rough = np.sin(ball.vertices * 7.0).prod(axis=1) * 0.05
    ball.vertices += ball.vertices / 10.0 * rough[:, None]
    result = compiled(tmp_path, ball, zone("thicken", "old.front", "by 1.5"))
    assert said(result) == []
    sound(result)
    assert result.figures.volume - ball.volume == pytest.approx(1.5 * ROUND, abs=1.5 * SHORT + 1e-2)


def test_a_ramp_across_a_step_leaves_no_second_piece(tmp_path: Path) -> None:
    """A bar with a boss at its end, thickened along its middle: where the strips of the ramp meet the boss,
    all is one.
    """
    boss = trimesh.creation.cylinder(radius=6.0, height=9.0, sections=48)
    boss.apply_translation((8.0, 0.0, 2.0))
    mesh = trimesh.boolean.union([trimesh.creation.box((24, 12, 5)), boss], engine="manifold")
    text = "bore screw\n    across 3.4\n    from old.left centre 7.65\n    midway old.top, old.bottom\n"
    text += "line ridge\n    from screw centre 0\n    level\n"
    text += "thicken spine\n    on old.front\n    along ridge wide 5\n    by 1.5\n    ramp 1\n"
    result = compiled(tmp_path, mesh, text)
    assert result.ok, said(result)
    sound(result)
    assert result.figures.pieces == 1
    assert result.figures.box == pytest.approx((26.0, 12.0, 10.5), abs=1e-6)
