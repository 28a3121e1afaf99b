"""Recipes that use others: what is answered, what is wrong inside and told outside, what is refused."""

from __future__ import annotations

import os
from pathlib import Path

import makegood
import pytest

from .making import made, said
from .using import STEP, codes, compiled


def test_names_do_not_cross(tmp_path: Path) -> None:
    """The same names inside and outside; a name of ours is none in the part, a name of the part is none of
    ours.
    """
    text = 'let tread = 30\n\nblock low\n    long tread\n    wide 8\n    thick 3\n\nuse high "step.mend"\n'
    text += "    against low.right\n    flush with low.bottom\n"
    result = compiled(tmp_path, text, step=STEP)
    assert said(result) == []
    assert result.figures.box == (42.0, 8.0, 9.0)
    leaning = compiled(
        tmp_path, 'let gap = 3\n\nuse a "lean.mend"\n', lean=STEP.replace("wide 8", "wide gap")
    )
    assert codes(leaning) == ["use-fails"]
    assert "lean.mend, line 7: nothing is named `gap`" in leaning.diagnostics[0].headline
    bore = "bore b\n    drill 2\n    around eye\n"
    assert codes(compiled(tmp_path, f'use a "step.mend"\n\n{bore}', step=STEP)) == ["unknown-name"]


def test_what_is_wrong_inside_is_told_where_it_is_used(tmp_path: Path) -> None:
    text = "block low\n    long 30\n    wide 8\n    thick 3\n\n"
    text += (
        'use a "step.mend"\n    with tread = 41\n    against low.right\n'
        '\nuse b "step.mend"\n    with treat = 7\n\n'
    )
    text += 'use c "step.mend"\n    with low = 7\n\nuse d "step.mend"\n    with tread = 7\n'
    text += (
        '    with tread = 8\n\nuse e "step.mend"\n    datum ey\n\nbore f\n    drill 2\n    around a.nothing\n'
    )
    result = compiled(tmp_path, text, step=STEP)
    found = [(one.code, one.span.line) for one in result.diagnostics]
    assert sorted(found, key=lambda one: one[1]) == [
        ("out-of-limits", 9),
        ("no-such-size", 13),
        ("no-such-size", 16),
        ("said-twice", 20),
        ("unknown-part", 23),
    ]
    told = {one.code: one for one in result.diagnostics}
    assert "limits are 5 to 40 (step.mend, line 3)" in told["out-of-limits"].headline
    assert told["unknown-part"].advice == ("did you mean `e.eye`?",)


def test_warnings_inside_are_told_and_errors_come_with_their_cause(tmp_path: Path) -> None:
    thin = STEP.replace("from low.top centre 2.5", "from low.top centre 1.3")
    assert codes(made(thin)) == codes(compiled(tmp_path, 'use a "thin.mend"\n', thin=thin)) != []
    fails = compiled(
        tmp_path, 'use a "bad.mend"\n    with tread = 6\n', bad=STEP.replace("on low.front", "on lwo.front")
    )
    assert set(codes(fails)) == {"use-fails"}
    assert "it was asked for with tread = 6" in fails.diagnostics[0].advice
    assert codes(compiled(tmp_path, 'use a "note.mend"\n', note="milk and eggs\n")) == ["use-fails"]
    (tmp_path / "bytes.mend").write_bytes(b"recipe \xff")
    assert codes(compiled(tmp_path, 'use a "bytes.mend"\n')) == ["use-fails"]
    (tmp_path / "long.mend").write_bytes(b"#" * 1_000_001)
    assert codes(compiled(tmp_path, 'use a "long.mend"\n')) == ["file-too-big"]


def test_circles_and_depth_are_refused(tmp_path: Path) -> None:
    own = compiled(
        tmp_path, 'use a "a.mend"\n', a='recipe "a"\nuse b "b.mend"\n', b='recipe "b"\nuse a "a.mend"\n'
    )
    assert codes(own) == ["use-fails"]
    assert "a.mend -> b.mend -> a.mend" in own.diagnostics[0].headline
    (tmp_path / "self.mend").write_text('recipe "s"\nuse s "self.mend"\n', encoding="utf-8")
    assert codes(makegood.compile_file(tmp_path / "self.mend")) == ["circle-of-files"]
    chain = {f"n{k}": f'recipe "n"\nuse n "n{k + 1}.mend"\n' for k in range(30)}
    deep = compiled(tmp_path, 'use n "n0.mend"\n', **chain)
    assert codes(deep) == ["use-fails"]
    assert "too deep" in deep.diagnostics[0].headline


def test_many_different_parts_are_refused_and_one_part_many_times_is_not(tmp_path: Path) -> None:
    same = "".join(f'use u{k} "washer"\n    at {20 * k}, 0\n\n' for k in range(60))
    assert set(codes(compiled(tmp_path, same))) == {"falls-apart"}
    each = "".join(
        f'use u{k} "washer"\n    with across = 10 + {k} / 100\n    at {k}, 0\n\n' for k in range(260)
    )
    assert set(codes(compiled(tmp_path, each))) == {"bad-count"}
    crowd = "".join(f'use u{k} "washer"\n' for k in range(501))
    assert codes(compiled(tmp_path, crowd)) == ["bad-count"]
    wrong = 'use u "washer"\n' + "".join(f"    with n{k} = 1\n" for k in range(1000))
    assert len(codes(compiled(tmp_path, wrong))) == 300


@pytest.mark.parametrize(
    "name",
    [
        "/up.mend",
        "../up.mend",
        "sub/../../up.mend",
        "~/up.mend",
        "C:/up.mend",
        "sub\\up.mend",
        "",
        " ",
        "x" * 300 + ".mend",
    ],
)
def test_paths_that_lead_out_are_refused_unread(name: str, tmp_path: Path) -> None:
    folder = tmp_path / "inner"
    folder.mkdir()
    (tmp_path / "up.mend").write_text(STEP, encoding="utf-8")
    assert codes(compiled(folder, f'use a "{name}"\n')) == ["outside-folder"]


def test_files_below_are_found_and_climb_no_higher_than_the_recipe(tmp_path: Path) -> None:
    folder = tmp_path / "inner"
    folder.mkdir()
    (tmp_path / "up.mend").write_text(STEP, encoding="utf-8")
    use = 'recipe "u"\n\nuse a "{}"\n'
    good = compiled(folder, 'use a "parts/mid.mend"\n', parts__mid=use.format("../step.mend"), step=STEP)
    assert said(good) == []
    bad = compiled(folder, 'use a "parts/mid.mend"\n', parts__mid=use.format("../../up.mend"))
    assert codes(bad) == ["use-fails"]
    assert "leaves the recipe's folder" in bad.diagnostics[0].headline


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="links and pipes of the system")
def test_links_out_of_the_folder_and_what_is_no_file_are_refused(tmp_path: Path) -> None:
    folder = tmp_path / "inner"
    (folder / "sub.mend").mkdir(parents=True)
    (tmp_path / "up.mend").write_text(STEP, encoding="utf-8")
    (folder / "link.mend").symlink_to(tmp_path / "up.mend")
    (folder / "loop.mend").symlink_to(folder / "loop.mend")
    (folder / "deep").symlink_to(tmp_path)
    os.mkfifo(folder / "pipe.mend")
    for name, code in (
        ("link", "outside-folder"),
        ("deep/up", "outside-folder"),
        ("loop", "no-such-file"),
        ("sub", "no-such-file"),
        ("pipe", "no-such-file"),
        ("none", "no-such-file"),
    ):
        assert codes(compiled(folder, f'use a "{name}.mend"\n')) == [code], name


def test_a_text_without_a_folder_has_only_the_patterns() -> None:
    assert makegood.compile_text('recipe "w"\n\nuse a "washer"\n').ok
    assert codes(makegood.compile_text('recipe "w"\n\nuse a "step.mend"\n')) == ["no-such-file"]
