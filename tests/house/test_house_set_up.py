"""The set-up on a fresh machine: plain words when it can't go on, and (in the long run) the whole of it."""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path
from types import ModuleType
from typing import NoReturn

import pytest

from .rooms import ROOT, tracked


@pytest.fixture
def start(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """compiler/__main__.py loaded by its path, as the tests' own start file does, at work on an empty
    folder.
    """
    before = list(sys.path)
    spec = importlib.util.spec_from_file_location("start_under_test", ROOT / "compiler" / "__main__.py")
    assert spec is not None
    assert spec.loader is not None
    loaded = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(loaded)
    assert sys.path == before
    (tmp_path / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    for name, value in (
        ("ROOT", tmp_path),
        ("VENV", tmp_path / ".venv"),
        ("STAMP", tmp_path / ".venv" / "stamp"),
    ):
        monkeypatch.setattr(loaded, name, value)
    return loaded


def test_an_old_python_is_told(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    monkeypatch.setattr(start, "OLDEST", (99, 1))
    with pytest.raises(SystemExit) as left:
        start.run_inside(["-V"])
    assert left.value.code == 1
    assert "99.1 or newer is needed" in capsys.readouterr().err


def test_a_system_without_venv_is_told_what_to_add(start: ModuleType, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(start.importlib.util, "find_spec", lambda _: None)
    monkeypatch.setattr(start.shutil, "which", lambda _: "apt-get")
    monkeypatch.setattr(os, "geteuid", lambda: 1000, raising=False)
    with pytest.raises(start.NotReady, match="sudo apt-get install python3-venv"):
        start.set_up()
    monkeypatch.setattr(start.shutil, "which", lambda _: None)
    with pytest.raises(start.NotReady, match="without venv and ensurepip"):
        start.set_up()


def test_a_failing_step_is_quoted(start: ModuleType):
    step = [sys.executable, "-c", "print('no such host'); raise SystemExit(3)"]
    with pytest.raises(start.NotReady, match="is this machine on line\\?\n  no such host"):
        start._call(step, "is this machine on line?")


def test_the_environment_is_renewed_when_and_only_when_it_must(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch
):
    steps: list[str] = []

    def call(command: list[str], *_: object) -> None:
        steps.append(command[2] if command[1] == "-m" else "warm")
        python = Path(start.VENV) / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
        python.parent.mkdir(parents=True, exist_ok=True)
        python.touch()

    monkeypatch.setattr(start, "_call", call)
    monkeypatch.setattr(start, "_works", lambda python: python.exists())
    wanted = ["venv", "pip", "compileall", "warm"]
    start.set_up()
    assert steps == wanted
    start.set_up()
    assert steps == wanted
    start.set_up("test")
    assert steps == (wanted := [*wanted, "pip", "compileall", "warm"])
    start.set_up()
    start.set_up("test")
    assert steps == wanted
    (start.ROOT / "pyproject.toml").write_text("[project]\n# newer\n", encoding="utf-8")
    start.set_up()
    assert steps == [*wanted, "pip", "compileall", "warm"]


def test_a_set_up_that_breaks_off_is_not_taken_for_done(start: ModuleType, monkeypatch: pytest.MonkeyPatch):
    def call(command: list[str], *_: object) -> NoReturn:
        raise start.NotReady("off line")

    monkeypatch.setattr(start, "_call", call)
    for _ in range(2):
        with pytest.raises(start.NotReady):
            start.set_up()


def test_no_file_of_ours_can_stand_for_a_library(tmp_path: Path):
    """A folder that is run is put on the search path; a file beside the start file must not be taken for a
    library.
    """
    folder = tmp_path / "compiler"
    folder.mkdir()
    shutil.copy(ROOT / "compiler" / "__main__.py", folder)
    for name in ("hashlib", "subprocess", "shutil", "pathlib"):
        (folder / f"{name}.py").write_text("raise SystemExit('taken for a library')\n", encoding="utf-8")
    for command in ([str(folder)], [str(folder / "__main__.py")]):
        done = subprocess.run(
            [sys.executable, *command], capture_output=True, text=True, check=False, cwd=folder
        )
        assert "taken for a library" not in done.stderr
        assert "pyproject.toml" in done.stderr


@pytest.mark.parametrize("failing", ["ruff", "mypy", "pytest", ""])
def test_all_three_run_pytest_last_and_any_failure_counts(failing: str, monkeypatch: pytest.MonkeyPatch):
    ran: list[tuple[list[str], dict[str, str]]] = []

    def run_inside(command: list[str], extra: str, more: dict[str, str]) -> int:
        assert extra == "test"
        ran.append((command, more))
        return 1 if command[1] == failing else 0

    spec = importlib.util.spec_from_file_location("tests_under_test", ROOT / "tests" / "__main__.py")
    assert spec is not None
    assert spec.loader is not None
    tests = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(tests)
    monkeypatch.setattr(tests, "_borrowed", lambda: run_inside)
    monkeypatch.chdir(ROOT)
    assert tests.main(["--long", "-k", "hook"]) == (1 if failing else 0)
    assert [command[1] for command, _ in ran] == ["ruff", "mypy", "pytest"]
    assert ran[-1] == (["-m", "pytest", "-n", "auto", "-k", "hook"], {"MAKEGOOD_LONG": "1"})


@pytest.mark.long
def test_a_fresh_copy_sets_itself_up(tmp_path: Path):
    copy = tmp_path / "fresh copy"
    for path in tracked():
        goal = copy / path.relative_to(ROOT)
        goal.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(path, goal)
    command = [sys.executable, str(copy / "compiler"), "--version"]
    first = subprocess.run(command, capture_output=True, text=True, check=True, cwd=tmp_path)
    assert first.stdout.startswith("makegood ")
    assert "setting up" in first.stderr
    second = subprocess.run(command, capture_output=True, text=True, check=True, cwd=tmp_path)
    assert second.stderr == ""
