"""3MF files: read back by lib3mf's strict reader, by an XML parser and by zipfile.

Sources: 3MF Core Specification (3MF Consortium); Open Packaging Conventions; XML 1.0.
"""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from makegood.diagnostics.types import Trouble
from makegood.outputs import stl_bytes, threemf_bytes
from makegood.outputs.threemf import CARD, CORE
from meshes_for_outputs import arrays_of, ball, box, fields_of, mesh_of, read_strictly, tetrahedron

HOSTILE = (
    "quote \" and ' and < and > and & and ]]> and <!-- --> and &amp;",
    "kettle \U0001fad6, t\u00fcr, \u6247\u98a8\u6a5f, \u0434\u0432\u0435\u0440\u044c",
    "first line\n\tsecond, indented  ",
    "x" * 10_000,
    "%s {0} \\ &#65;",
)
HOUSE = {
    "fits": "kettle lid",
    "broke": "hinge ear",
    "licence": "CC BY 4.0",
    "by": "Ada",
    "broke why": "dropped",
}


def model_of(data: bytes) -> bytes:
    return zipfile.ZipFile(io.BytesIO(data)).read("3D/3dModel.model")


@pytest.mark.parametrize("mesh", [box(30, 20, 4.25), tetrahedron(7.5), ball(40, 60), ball(1, 3)])
def test_a_strict_reader_gets_back_what_was_written(mesh):
    model = read_strictly(threemf_bytes(mesh, HOUSE, "lid hinge"))
    held, points, triangles = arrays_of(model)
    assert held.IsManifoldAndOriented()
    assert held.GetName() == "lid hinge"
    assert model.GetUnit() == 1  # lib3mf: ModelUnit.MilliMeter
    assert model.GetLanguage() == "en-US"
    # lib3mf keeps 32-bit floats: one part in 2^24, and 5e-7 mm of our own rounding
    assert np.abs(points - mesh.points).max() <= 5e-7 + np.abs(mesh.points).max() / 2**24
    assert np.array_equal(triangles, mesh.triangles)
    items = model.GetBuildItems()
    assert items.Count() == 1


def test_numbers_in_the_file_are_the_nearest_millionths_in_the_fewest_digits():
    mesh = ball(40, 60)
    root = ElementTree.fromstring(model_of(threemf_bytes(mesh, {}, "ball")))
    texts = [vertex.get(axis) for vertex in root.iter(f"{{{CORE}}}vertex") for axis in "xyz"]
    assert texts == [fewest(value) for value in mesh.points.ravel()]


def fewest(value: float) -> str:
    """The same by the long way: Python's own formatting, then zeros taken off."""
    text = f"{round(value * 1e6) / 1e6:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@given(
    st.lists(
        st.floats(-1e5, 1e5) | st.sampled_from([0.0, -0.0, 1e-6, -1e-6, 4e-7, -4e-7, 10.0, -100.5]),
        min_size=3,
        max_size=3,
    )
)
def test_any_place_is_written_in_the_fewest_digits(place):
    root = ElementTree.fromstring(model_of(threemf_bytes(box(1, 1, 1, at=tuple(place)), {}, "")))
    first = next(root.iter(f"{{{CORE}}}vertex"))
    for axis, value in zip("xyz", place, strict=True):
        text = first.get(axis)
        assert re.fullmatch(r"-?(0|[1-9]\d*)(\.\d{0,5}[1-9])?", text)
        assert text != "-0"
        assert abs(float(text) - value) <= 5.1e-7


@pytest.mark.parametrize("text", HOSTILE, ids=["marks", "tongues", "lines", "long", "codes"])
def test_hostile_text_comes_back_as_it_went_in(text):
    data = threemf_bytes(box(), {"fits": text, "licence": text, "description": text}, text)
    fields = fields_of(read_strictly(data))
    assert fields.pop("Application").startswith("makegood ")
    assert fields == {"Title": text, "LicenseTerms": text, "Description": text, "card:fits": text}


@given(st.text(st.characters(), max_size=40))
def test_any_text_at_all_gives_a_well_formed_model(text):
    assume(text.casefold() != "fits")  # the field that is asked for
    data = threemf_bytes(box(), {text: text, "fits": text}, text)
    root = ElementTree.fromstring(model_of(data))
    stands = re.sub("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", "\ufffd", text).replace(
        "\r\n", "\n"
    )
    stands = stands.replace("\r", "\n")
    values = [
        element.text for element in root.iter(f"{{{CORE}}}metadata") if element.get("name") == "mend:fits"
    ]
    assert values == ([stands] if text.strip() else [])
    read_strictly(data)


def test_characters_that_xml_has_no_room_for_are_replaced():
    data = threemf_bytes(box(), {"fits": "a\x00b\x1bc\ufffed\ud800e"}, "bell\x07")
    fields = fields_of(read_strictly(data))
    assert fields["card:fits"] == "a\ufffdb\ufffdc\ufffdd\ufffde"
    assert fields["Title"] == "bell\ufffd"


def test_fields_of_the_card_have_standard_names_or_names_of_our_own():
    fields = fields_of(read_strictly(threemf_bytes(box(), HOUSE, "lid hinge")))
    fields.pop("Application")
    assert fields == {
        "Title": "lid hinge",
        "LicenseTerms": "CC BY 4.0",
        "Designer": "Ada",
        "card:fits": "kettle lid",
        "card:broke": "hinge ear",
        "card:broke-why": "dropped",
    }
    assert f'xmlns:mend="{CARD}"'.encode() in model_of(threemf_bytes(box(), HOUSE, "x"))


def test_fields_that_would_share_a_name_are_told_apart_and_none_is_lost():
    card = {
        "a b": "1",
        "a-b": "2",
        "A:B": "3",
        "9th": "4",
        "!": "5",
        "licence": "6",
        "license": "7",
        "Title": "8",
        "CreationDate": "9",
        "empty": "  ",
    }
    fields = fields_of(read_strictly(threemf_bytes(box(), card, "real title")))
    assert sorted(fields.values()) == sorted([*"123456789", "real title", fields["Application"]])
    assert len({name.casefold() for name in fields}) == len(fields)
    assert fields["Title"] == "real title"
    unprefixed = {name for name in fields if not name.startswith("card:")}
    assert unprefixed <= {"Title", "LicenseTerms", "Application"}


def test_the_package_holds_three_stored_parts_and_no_date():
    package = zipfile.ZipFile(io.BytesIO(threemf_bytes(box(), HOUSE, "x")))
    assert package.testzip() is None
    entries = package.infolist()
    assert [entry.filename for entry in entries] == ["[Content_Types].xml", "_rels/.rels", "3D/3dModel.model"]
    for entry in entries:
        assert entry.date_time == (1980, 1, 1, 0, 0, 0)
        assert entry.compress_type == zipfile.ZIP_STORED
        assert (entry.create_system, entry.flag_bits, entry.extra, entry.comment) == (0, 0, b"", b"")
    relationships = ElementTree.fromstring(package.read("_rels/.rels"))
    (start,) = relationships
    assert start.get("Type") == "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
    assert start.get("Target") == "/3D/3dModel.model"
    listed = ElementTree.fromstring(package.read("[Content_Types].xml"))
    kinds = {kind.get("Extension"): kind.get("ContentType") for kind in listed}
    assert kinds["model"] == "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"
    model = package.read("3D/3dModel.model")
    assert b"<!DOCTYPE" not in model
    assert b"xml:space" not in model


def test_order_of_the_card_does_not_matter():
    turned = dict(reversed(HOUSE.items()))
    assert list(turned) != list(HOUSE)
    assert threemf_bytes(box(), turned, "x") == threemf_bytes(box(), HOUSE, "x")


MAKE = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
from meshes_for_outputs import ball
from makegood.outputs import stl_bytes, threemf_bytes
card = {"fits": "kettle", "broke": "ear", "licence": "CC0", "by": "Ada"}
print(hashlib.sha256(threemf_bytes(ball(9, 11), card, "lid") + stl_bytes(ball(9, 11), "lid")).hexdigest())
"""


def test_same_bytes_in_every_process():
    said = set()
    for seed in ("0", "1", "4711"):
        run = [sys.executable, "-c", MAKE, str(Path(__file__).parent)]
        done = subprocess.run(
            run,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": f"X{len(said)}"},
            capture_output=True,
            check=True,
        )
        said.add(done.stdout)
    assert len(said) == 1
    assert threemf_bytes(ball(9, 11), HOUSE, "lid") == threemf_bytes(ball(9, 11), HOUSE, "lid")


BROKEN = {
    "open": mesh_of(box().points, box().triangles[:-1]),
    "inside out": mesh_of(box().points, box().triangles[:, ::-1]),
    "one face turned": mesh_of(box().points, np.vstack([box().triangles[:1, ::-1], box().triangles[1:]])),
    "twice": mesh_of(box().points, np.vstack([box().triangles, box().triangles])),
    "a corner twice": mesh_of(box().points, np.vstack([box().triangles, [(1, 1, 2)]])),
    "no such corner": mesh_of(box().points[:7], box().triangles),
    "empty": mesh_of(np.zeros((0, 3)), np.zeros((0, 3))),
    "flat": mesh_of(box(1, 1, 0).points, box().triangles),
    "nowhere": mesh_of(box().points * np.nan, box().triangles),
}


@pytest.mark.parametrize("write", [threemf_bytes, stl_bytes])
@pytest.mark.parametrize("mesh", BROKEN.values(), ids=BROKEN.keys())
def test_an_unsound_mesh_is_never_written(mesh, write):
    with pytest.raises(Trouble) as caught:
        write(mesh, {}, "x") if write is threemf_bytes else write(mesh, "x")
    assert caught.value.code == "bad-solid"


def test_many_triangles_cross_the_blocks_unharmed():
    mesh = ball(130, 400)  # 104,000 triangles and 52,002 points: several blocks of either
    root = ElementTree.fromstring(model_of(threemf_bytes(mesh, {}, "ball")))
    points = np.array([[float(v.get(a)) for a in "xyz"] for v in root.iter(f"{{{CORE}}}vertex")])
    triangles = np.array([[int(t.get(f"v{i}")) for i in (1, 2, 3)] for t in root.iter(f"{{{CORE}}}triangle")])
    assert np.abs(points - mesh.points).max() <= 5.1e-7
    assert np.array_equal(triangles, mesh.triangles)
