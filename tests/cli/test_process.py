"""The command line as a process: what it loads, and pipes, interrupts, odd terminals."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from functools import partial
from pathlib import Path

import pytest

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "roof-vent-lever.mend"
HERE = Path(__file__).parent
HEAVY = ("numpy", "manifold3d", "lark", "scipy", "hypothesis", "reportlab", "PIL", "fontTools")
LOADED = f"""
import sys
from makegood.cli import main
code = main(sys.argv[1:])
sys.stderr.write(",".join(name for name in {HEAVY!r} if name in sys.modules))
sys.exit(code)
"""
STAND_IN = """
import sys
sys.path.insert(0, sys.argv.pop(1))
import stand_in
stand_in.put_in()
from makegood.cli import main
sys.exit(main())
"""


def _run(*words: str, **more: str) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, **more}
    command = [sys.executable, "-c", STAND_IN, str(HERE), *words]
    return subprocess.run(command, capture_output=True, env=environment, check=False, timeout=60)


@pytest.mark.parametrize(
    "words", [["--help"], ["--version"], ["make", "--help"], ["explain"], ["explain", "two-places"]]
)
def test_nothing_heavy_is_loaded_for_small_questions(words: list[str]):
    done = subprocess.run([sys.executable, "-c", LOADED, *words], capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert done.stdout
    assert done.stderr == ""


def test_it_runs_as_a_module():
    done = subprocess.run(
        [sys.executable, "-m", "makegood", "--version"], capture_output=True, text=True, check=True
    )
    assert done.stdout.startswith("makegood ")


def test_a_terminal_without_utf8_is_survived(tmp_path: Path):
    (tmp_path / "é漢.mend").write_text("broken 漢é \u202e", encoding="utf-8")
    done = _run("make", str(tmp_path / "é漢.mend"), PYTHONIOENCODING="ascii")
    assert done.returncode == 1
    assert b"two places" in done.stderr
    assert done.stderr.isascii()


def test_no_colour_into_a_pipe(tmp_path: Path):
    (tmp_path / "a.mend").write_text("broken", encoding="utf-8")
    assert b"\x1b" not in _run("make", str(tmp_path / "a.mend"), TERM="xterm").stderr


def test_a_reader_that_leaves_early_is_no_accident():
    command = [sys.executable, "-c", STAND_IN, str(HERE), "explain"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as child:
        assert child.stdout is not None
        assert child.stderr is not None
        child.stdout.close()
        told = child.stderr.read()
        child.wait(timeout=60)
    assert told == b""


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs a device that is always full")
@pytest.mark.parametrize("words", [["report"], ["readings", "--json"], ["check"]])
def test_output_that_does_not_arrive_is_no_success(words: list[str]):
    command = [sys.executable, "-m", "makegood", *words, str(EXAMPLE)]
    with open("/dev/full", "wb") as full:
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert done.returncode == 2
    assert done.stderr == "makegood: there is no room left to write to\n"


@pytest.mark.skipif(os.name == "nt", reason="sends the signal of a POSIX terminal")
def test_ctrl_c_is_130_without_a_traceback(tmp_path: Path):
    (tmp_path / "a.mend").write_text("slow", encoding="utf-8")
    command = [
        sys.executable,
        "-X",
        "importtime",
        "-c",
        STAND_IN,
        str(HERE),
        "make",
        str(tmp_path / "a.mend"),
    ]
    log = tmp_path / "log"
    # a run in the background may hand down that Ctrl-C is not heard
    heard = partial(signal.signal, signal.SIGINT, signal.SIG_DFL)
    with (
        log.open("wb") as stream,
        subprocess.Popen(command, stdout=subprocess.PIPE, stderr=stream, preexec_fn=heard) as child,
    ):
        deadline = time.monotonic() + 30
        while b"makegood.cli" not in log.read_bytes() and time.monotonic() < deadline:
            time.sleep(0.05)
        time.sleep(0.5)
        child.send_signal(signal.SIGINT)
        assert child.wait(timeout=30) == 130
    told = log.read_bytes()
    assert b"stopped" in told
    assert b"Traceback" not in told


@pytest.mark.skipif(os.name == "nt", reason="needs a POSIX pseudo-terminal")
def test_on_a_terminal_there_are_colour_and_a_bar_that_goes_away(tmp_path: Path):
    for name in ("a", "b", "c"):
        (tmp_path / f"{name}.mend").write_text("broken", encoding="utf-8")
    words = ["check", *(str(tmp_path / f"{name}.mend") for name in ("a", "b", "c"))]
    shown = _on_a_terminal(words, {"TERM": "xterm"})
    assert "2 of 3  b.mend" in shown
    assert "\x1b[35m^^^^^^ here\x1b[0m" in shown
    assert shown.count("\r\x1b[K") == 3
    plain = _on_a_terminal(words, {"TERM": "xterm", "NO_COLOR": "1"})
    assert "\x1b[35m" not in plain
    assert "2 of 3" not in _on_a_terminal(words, {"TERM": "dumb"})


def _on_a_terminal(words: list[str], more: dict[str, str]) -> str:
    import pty

    environment = {name: value for name, value in os.environ.items() if name != "NO_COLOR"}
    ours, theirs = pty.openpty()
    command = [sys.executable, "-c", STAND_IN, str(HERE), *words]
    with subprocess.Popen(
        command, stdout=subprocess.DEVNULL, stderr=theirs, env={**environment, **more}
    ) as child:
        os.close(theirs)
        seen = b""
        while True:
            try:
                read = os.read(ours, 4096)
            except OSError:  # the terminal's other end has closed
                break
            if not read:
                break
            seen += read
        child.wait(timeout=60)
    os.close(ours)
    return seen.decode("utf-8")


@pytest.mark.parametrize(
    ("words", "warned"),
    [
        (["make", "-o", "a.3mf"], True),
        (["check"], True),
        (["report"], True),
        (["readings"], False),
        (["draw", "-o", "a.svg"], False),
    ],
)
def test_a_caution_stands_where_a_part_is_made_or_judged_and_other_notes_everywhere(
    words: list[str], warned: bool, tmp_path: Path
):
    text = 'recipe "chair foot"\n    fits "a chair"\ngear wheel\n    teeth 10\n    module 1\n    thick 5\n'
    (tmp_path / "a.mend").write_text(text, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "makegood", words[0], "a.mend", *words[1:]],
        cwd=tmp_path,
        text=True,
        capture_output=True,
        check=False,
    )
    assert done.returncode == 0
    assert "undercut" in done.stdout + done.stderr
    assert ("take care" in done.stdout + done.stderr) is warned
