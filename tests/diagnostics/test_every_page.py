"""Every code has a page, every page a code, and every page does what it says: its example gives this code and
no other.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable
from pathlib import Path

import makegood
import pytest
from makegood.diagnostics import Diagnostic, Trouble, codes, page, read_page
from makegood.mesh.turnings import turned
from makegood.outputs import stl_bytes, write_whole
from makegood.source import read_file

from .raised_codes import raised_codes

# Codes that no recipe can give, and why.
OF_FILES = {
    "circle-of-files": "needs recipes beside it (tests/parts/test_use_refused)",
    "mesh-not-closed": "needs a mesh beside it (tests/brought)",
    "mesh-repaired": "needs a mesh beside it (tests/brought)",
    "mesh-unread": "needs a mesh beside it (tests/brought)",
    "use-fails": "needs a faulty recipe beside it (tests/parts/test_use_refused)",
    "which-unit": "needs a mesh beside it (tests/brought)",
    "cannot-write": "the system's own refusal to write a file",
    "disk-full": "the state of the disk",
    "file-too-big": "more than a page can hold",
    "folder-missing": "where the file is to be written",
    "is-a-folder": "where the file is to be written",
    "line-too-long": "more than a page can hold",
    "too-many-facets": "more than a page can hold",
    "too-many-mistakes": "more than a page can hold",
    "no-permission": "the rights of the folder",
    "not-text": "bytes that a page of text can't hold",
    "too-large-for-paper": "raised only when a template is written",
}
INWARD = {
    "bad-solid": "the compiler's own check of its work",
    "check-failed": "a fault of the compiler's own",
    "behind-axis": "sizes below nothing are answered before (bad-size)",
    "crosses-itself": "walls of no thickness are answered before (no-wall)",
    "no-outline": "sizes of nothing are answered before (bad-size)",
    "uneven-fillet": "the language gives a fillet one radius only",
}
REACHED = [code for code in codes() if code not in OF_FILES | INWARD]


def _found(text: str) -> list[str]:
    return [one.code for one in makegood.compile_text(text, "page.mend").diagnostics]


def test_every_code_has_a_page_and_every_page_a_code():
    raised = raised_codes()
    assert len(raised) > 80
    missing = {code: place for code, place in raised.items() if code not in codes()}
    assert not missing, f"no page for {missing}"
    assert not set(codes()) - set(raised), "pages of codes that nothing raises"
    assert set(OF_FILES | INWARD) <= set(raised)


@pytest.mark.parametrize("code", REACHED)
def test_the_example_gives_this_code_and_no_other(code: str):
    assert set(_found(read_page(code).example)) == {code}


@pytest.mark.parametrize("code", codes())
def test_the_mended_recipe_makes_a_part(code: str):
    result = makegood.compile_text(read_page(code).mended, "page.mend")
    assert [one.headline for one in result.diagnostics] == []
    assert result.ok


@pytest.mark.parametrize("code", codes())
def test_little_is_changed_to_mend_it(code: str):
    taken = read_page(code)
    one, two = taken.example.splitlines(), taken.mended.splitlines()
    changed = [line for line in difflib.ndiff(one, two) if line[:2] in ("+ ", "- ") and line[2:].strip()]
    assert 1 <= len(changed) <= 8
    assert len(page(code).splitlines()) <= 120


def test_no_two_examples_are_of_the_same_part():
    heads = [re.findall(r'^recipe "(.*)"$', read_page(code).mended, re.MULTILINE)[0] for code in codes()]
    assert len(set(heads)) == len(heads)


# What files and disks give is provoked here instead of by a recipe.
BLOCK = 'recipe "stop"\n\nblock stop\n    long 20.0\n    wide 10.0\n    thick 4.0\n'


def _of_writing(path: Path) -> str:
    with pytest.raises(Trouble) as caught:
        write_whole(path, b"x")
    return caught.value.code


def _of_reading(path: Path, data: bytes) -> set[str]:
    path.write_bytes(data)
    return {one.code for one in read_file(path)[1]}


def test_codes_of_files(tmp_path: Path):
    assert _of_writing(tmp_path / "none" / "a.3mf") == "folder-missing"
    assert _of_writing(tmp_path) == "is-a-folder"
    assert _of_writing(tmp_path / "a\0b") == "cannot-write"
    assert _of_reading(tmp_path / "a.mend", b"recipe \xff") == {"not-text"}
    assert _of_reading(tmp_path / "b.mend", b'recipe "a\x07"\n') == {"not-text"}
    assert _of_reading(tmp_path / "c.mend", b"#" * 3000) == {"line-too-long"}
    assert _of_reading(tmp_path / "d.mend", b"\n" * 1_000_001) == {"file-too-big"}


def test_far_too_much_of_something():
    lines = "".join(f"    groove {9000 - i} from {i} to {i + 0.5}\n" for i in range(700))
    huge = 'recipe "r"\nturning t\n    across 9999 from 0 to 9999\n' + lines
    assert {one.code for one in makegood.compile_text(huge).diagnostics} == {"too-many-facets"}
    for text in (
        "    milk\n" * 400,
        'recipe "r"\n' + "".join(f"point p{i}\n    from q{i} 3\n" for i in range(400)),
    ):
        told = makegood.compile_text(text).diagnostics
        assert "too-many-mistakes" in {one.code for one in told}
        assert len(told) <= 303


def test_a_part_too_fine_for_stl():
    mesh = makegood.compile_text(BLOCK).mesh
    assert mesh is not None
    fine = mesh.points.copy()
    fine[:, 0] = fine[:, 0] * 1e-9 + 1000.0
    with pytest.raises(Trouble) as caught:
        stl_bytes(type(mesh)(fine, mesh.triangles, mesh.labels), "stop")
    assert caught.value.code == "too-fine-for-stl"


def test_a_part_too_large_for_paper():
    result = makegood.compile_text(read_page("too-large-for-paper").example)
    with pytest.raises(Trouble) as caught:
        result.template()
    assert caught.value.code == "too-large-for-paper"


@pytest.mark.parametrize(
    ("code", "text"),
    [
        ("bad-size", "turning t\n    across 20.0 from 0 to 10.0\n    bored 0 from 0 to 10.0\n"),
        ("bad-size", "turning t\n    taper 0 - 4.0 at 0, 20.0 at 10.0\n"),
        ("bad-size", "turning t\n    across 0.0000001 from 0 to 10.0\n"),
        ("bad-size", "block t\n    long 20.0\n    wide 20.0\n    thick 0.0000001\n"),
        ("no-wall", "turning t\n    across 20.0 from 0 to 10.0\n    bored 19.99999 from 0 to 10.0\n"),
        (
            "no-wall",
            "turning t\n    across 20.0 from 0 to 10.0\n    bored taper 10.0 at 0, 19.9999999 at 10.0\n",
        ),
    ],
)
def test_what_would_be_an_inward_code_is_answered_before(code: str, text: str):
    assert code in _found('recipe "washer"\n\n' + text)


def _names(call: Callable[[], object]) -> str:
    with pytest.raises(Trouble) as caught:
        call()
    return caught.value.code


def test_inward_codes_still_guard_the_numbers():
    def profile(*corners: tuple[float, float]) -> object:
        import numpy as np

        size = len(corners)
        return turned(np.array(corners), np.zeros(size, dtype=np.int32), np.ones(size, dtype=np.bool_), 0.01)

    assert _names(lambda: profile((-1.0, 0.0), (2.0, 0.0), (2.0, 3.0))) == "behind-axis"
    assert _names(lambda: profile((1.0, 0.0), (1.0, 0.0), (1.0, 0.0))) == "no-outline"
    assert _names(lambda: profile((1.0, 0.0), (3.0, 2.0), (3.0, 0.0), (1.0, 2.5))) == "crosses-itself"


def test_a_message_is_a_diagnostic_with_a_page():
    for one in makegood.compile_text("recipe\nbore\n").diagnostics:
        assert isinstance(one, Diagnostic)
        assert page(one.code)


def test_a_line_that_is_no_text_is_not_missed_elsewhere():
    text = BLOCK.replace('recipe "stop"', 'recipe "st\x07op"')
    text += "\nbore pin \x08\n    drill 3.0\n\nbore hole\n    drill 2.0\n    around pin\n"
    assert _found(text) == ["not-text", "not-text"]
