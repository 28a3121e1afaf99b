"""What each command writes, where, and with which exit code."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

import makegood
import makegood.commands.start
import pytest
from makegood.cli import main
from makegood.commands.start import KINDS

from . import stand_in


@pytest.fixture(autouse=True)
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in, with the stand-in for a compiler."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("MAKEGOOD_DEBUG", raising=False)
    for name, value in stand_in.REPLACED:
        monkeypatch.setattr(makegood, name, value, raising=False)
    for name in ("good", "broken", "doubtful", "trips", "refused"):
        (tmp_path / f"{name}.mend").write_text(f"{name} text", encoding="utf-8")
    return tmp_path


def test_make_writes_beside_the_recipe_and_says_what(shop: Path, capsys: pytest.CaptureFixture[str]):
    (shop / "sub").mkdir()
    (shop / "good.mend").rename(shop / "sub" / "good.mend")
    assert main(["make", "sub/good.mend"]) == 0
    assert (shop / "sub" / "good.3mf").read_bytes().startswith(b"PK")
    told = capsys.readouterr()
    assert told.err == ""
    assert "30.00 x 20.00 x 10.00 mm" in told.out
    assert "1.00 cm3" in told.out
    assert "1.27 g printed solid in PETG" in told.out
    assert "pieces  1" in told.out


@pytest.mark.parametrize(
    "words", [["-o", "x.stl"], ["-o", "x.STL"], ["--format", "stl"], ["-o", "x.stl", "--format", "stl"]]
)
def test_stl_by_ending_or_by_format(shop: Path, words: list[str]):
    assert main(["make", "good.mend", *words]) == 0
    goal = shop / (words[1] if words[0] == "-o" else "good.stl")
    assert goal.stat().st_size == 84 + 50 * 4  # STL binary: 80 bytes, a count, 50 bytes a triangle


@pytest.mark.parametrize(
    ("words", "hint"),
    [
        (["make", "good.mend", "doubtful.mend", "-o", "x.3mf"], "several recipes"),
        (["make", "good.mend", "-o", "x.obj"], "end it in .3mf or .stl"),
        (["make", "good.mend", "-o", "x"], "end it in .3mf or .stl"),
        (["make", "good.mend", "-o", "x.3mf", "--format", "stl"], "disagree"),
        (["make", "good.stl"], "a mesh already"),
        (["make", "good.mend", "good.txt"], "two recipes would both"),
        (["make", "good.mend", "--chord", "0"], "between"),
        (["make", "good.mend", "--chord", "nan"], "between"),
        (["make", "good.mend", "--chord", "fine"], "between"),
        (["make"], "RECIPE"),
        (["mill", "good.mend"], "invalid choice"),
        (["make", "good.mend", "--form", "stl"], "unrecognized"),
        ([], "COMMAND"),
        (["start", "boat"], "invalid choice"),
        (["start", "hook", "-o", "hook.txt"], "ends in .mend"),
        (["explain", "two-plases"], "did you mean two-places"),
    ],
)
def test_wrong_usage_is_2_with_a_hint(
    shop: Path, capsys: pytest.CaptureFixture[str], words: list[str], hint: str
):
    before = sorted(shop.iterdir())
    assert main(words) == 2
    told = capsys.readouterr()
    assert hint in told.err
    assert told.out == ""
    assert sorted(shop.iterdir()) == before


@pytest.mark.parametrize("command", ["make", "report", "check", "tidy"])
def test_a_file_that_cannot_be_opened_is_2_in_plain_words(
    command: str, shop: Path, capsys: pytest.CaptureFixture[str]
):
    assert main([command, "gone.mend"]) == 2
    assert "there is no file or folder gone.mend" in capsys.readouterr().err
    (shop / "box.mend").mkdir()
    assert main([command, "box.mend"]) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_a_place_that_cannot_be_written_is_2(shop: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["make", "good.mend", "-o", "nowhere/x.3mf"]) == 2
    assert "there is no folder nowhere" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["make", "report", "check"])
def test_errors_go_to_stderr_with_their_line(command: str, shop: Path, capsys: pytest.CaptureFixture[str]):
    assert main([command, "broken.mend"]) == 1
    told = capsys.readouterr()
    assert told.err == (
        "broken.mend:1  hook could be in two places [two-places]\n  1 | broken text\n    | ^^^^^^ here\n\n"
    )
    assert told.out == ("broken.mend: 1 error\n" if command == "check" else "")
    assert not list(shop.glob("*.3mf"))


def test_a_warning_does_not_stop_the_part(shop: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["make", "doubtful.mend"]) == 0
    assert "warning: the wall" in capsys.readouterr().err
    assert (shop / "doubtful.3mf").exists()


def test_several_recipes_are_all_done_and_counted(shop: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["make", "trips.mend", "broken.mend", "good.mend", "refused.mend", "doubtful.mend"]) == 1
    assert {path.name for path in shop.glob("*.3mf")} == {"good.3mf", "doubtful.3mf"}
    told = capsys.readouterr().err
    assert told.endswith("5 recipes: 2 made, 3 not\n")
    assert "refused.mend  the neck is too narrow for the round [too-thin]\n  make it smaller\n" in told
    assert main(["check", "good.mend", "gone.mend"]) == 2
    assert main(["check", "good.mend", "good.mend"]) == 0
    assert capsys.readouterr().out.count("good.mend: good") == 2


def test_patterns_are_spelt_out(shop: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["check", "*d*.mend"]) == 1
    assert capsys.readouterr().err.endswith("3 recipes: 2 good, 1 not\n")


def test_a_fault_of_the_compiler_is_owned_up_to(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
):
    assert main(["make", "trips.mend"]) == 1
    told = capsys.readouterr().err
    assert "sorry" in told
    assert "trips.mend" in told
    assert re.search(r"ZeroDivisionError at running\.py:\d+, stand_in\.py:\d+\n", told)
    assert "Traceback" not in told
    monkeypatch.setenv("MAKEGOOD_DEBUG", "1")
    assert main(["make", "trips.mend"]) == 1
    assert "secret of the house" in capsys.readouterr().err


def test_check_as_json(capsys: pytest.CaptureFixture[str]):
    assert main(["check", "broken.mend", "good.mend", "--json"]) == 1
    first, second = json.loads(capsys.readouterr().out)
    assert (first["file"], first["ok"], first["diagnostics"][0]["code"]) == (
        "broken.mend",
        False,
        "two-places",
    )
    assert second == {"file": "good.mend", "ok": True, "diagnostics": []}


def test_report_as_text_and_as_json(capsys: pytest.CaptureFixture[str]):
    assert main(["report", "good.mend"]) == 0
    assert capsys.readouterr().out.startswith("stand-in\n")
    assert main(["report", "good.mend", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["title"] == "stand-in"
    assert main(["report", "broken.mend", "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["ok"] is False


def test_tidy_changes_in_place_once_and_check_changes_nothing(shop: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["tidy", "good.mend", "--check"]) == 1
    assert (shop / "good.mend").read_bytes() == b"good text"
    assert main(["tidy", "good.mend"]) == 0
    assert (shop / "good.mend").read_bytes() == b"good text\n"
    assert main(["tidy", "good.mend", "--check"]) == 0
    told = [row.split(": ")[1] for row in capsys.readouterr().out.splitlines()]
    assert told == ["would be changed", "tidied", "tidy already"]
    assert main(["tidy", "broken.mend"]) == 1
    assert (shop / "broken.mend").read_bytes() == b"broken text"
    (shop / "latin.mend").write_bytes(b"hook \xe9")
    assert main(["tidy", "latin.mend"]) == 1
    assert (shop / "latin.mend").read_bytes() == b"hook \xe9"
    assert "not UTF-8" in capsys.readouterr().err


def test_explain_lists_and_tells(capsys: pytest.CaptureFixture[str]):
    assert main(["explain"]) == 0
    assert re.search(r"^two-places +A thing could be in two places$", capsys.readouterr().out, re.M)
    assert main(["explain", "[two-places]"]) == 0
    assert "## Why it matters" in capsys.readouterr().out


def test_start_writes_a_recipe_and_never_over_one(shop: Path, monkeypatch: pytest.MonkeyPatch):
    (shop / "starters").mkdir()
    (shop / "starters" / "hook.mend").write_text('recipe "hook"\n', encoding="utf-8")
    monkeypatch.setattr(makegood.commands.start, "files", lambda _: shop)
    assert main(["start", "hook"]) == 0
    assert (shop / "hook.mend").read_text(encoding="utf-8") == 'recipe "hook"\n'
    (shop / "hook.mend").write_text("mine", encoding="utf-8")
    assert main(["start", "hook"]) == 2
    assert (shop / "hook.mend").read_text(encoding="utf-8") == "mine"
    assert main(["start", "hook", "-o", "other.mend"]) == 0
    assert main(["start", "hook", "-o", "nowhere/other.mend"]) == 2


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_its_starter(shop: Path, kind: str):
    assert main(["start", kind]) == 0
    assert (shop / f"{kind}.mend").read_text(encoding="utf-8").lstrip("# ").strip()


@pytest.mark.skipif(os.name == "nt", reason="such names can't be made there")
def test_a_file_name_cannot_paint_the_terminal(shop: Path, capsys: pytest.CaptureFixture[str]):
    name = "go\x1b[2Jod.mend"
    (shop / name).write_text("doubtful", encoding="utf-8")
    for words in (["make", name], ["check", name], ["check", name + "gone"]):
        main(words)
    told = capsys.readouterr()
    assert "\x1b" not in told.out + told.err
