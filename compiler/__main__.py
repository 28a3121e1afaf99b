"""Runs makegood: `python -m makegood ...` where it is installed, `python3 compiler ...` on a machine that has
nothing.

The second way needs no set-up: it makes `.venv` in the repository when that is missing or out of date,
installs the package there and runs the command inside.  `tests/__main__.py` borrows `run_inside` by this
file's path.  Only the standard library may be used, and an old Python must get far enough to be told that it
is too old.  Running a folder puts the folder itself on Python's search path; it is taken off, so that no file
of ours can stand for a library."""

from __future__ import annotations

import os
import sys

if __name__ == "__main__" and __package__:
    from .cli import run

    run()

if __name__ == "__main__":
    _folder = os.path.dirname(os.path.abspath(__file__))
    sys.path[:] = [entry for entry in sys.path if os.path.abspath(entry or os.curdir) != _folder]

import hashlib
import importlib
import importlib.util
import shutil
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
STAMP = VENV / "set-up-for"
OLDEST = (3, 11)


class NotReady(Exception):
    """The set-up can't go on; the text says what would do."""


def run_inside(arguments: list[str], extra: str = "", more: dict[str, str] | None = None) -> int:
    """Run `python ARGUMENTS` inside the repository's own environment, set up first where needed; its exit
    code.

    Raises SystemExit, after having said why, when the set-up fails. `extra` is a list of optional
    dependencies in pyproject.toml ("test"), `more` what is added to the environment."""
    try:
        python = set_up(extra)
    except NotReady as reason:
        _say(f"makegood can't be set up: {reason}")
        raise SystemExit(1) from None
    except KeyboardInterrupt:
        _say("\nstopped; the set-up goes on at the next run")
        raise SystemExit(130) from None
    outside = ("PYTHONHOME", "PYTHONPATH", "__PYVENV_LAUNCHER__")
    environment = {name: value for name, value in os.environ.items() if name not in outside}
    with subprocess.Popen([str(python), "-P", *arguments], env={**environment, **(more or {})}) as child:
        while True:
            try:
                code = child.wait()
            except KeyboardInterrupt:  # the command inside gets it too and ends in its own words
                continue
            return code if code >= 0 else 128 - code


def set_up(extra: str = "") -> Path:
    """The environment's Python, after making or renewing what pyproject.toml asks for; raises NotReady."""
    if sys.version_info < OLDEST:
        wanted = ".".join(map(str, OLDEST))
        raise NotReady(f"this is Python {sys.version.split()[0]}, but {wanted} or newer is needed")
    python = VENV / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")
    state = _state()
    held = _held(state) if python.exists() else None
    if held is not None and extra in held:
        return python
    if not _works(python):
        _say("setting up, once: making .venv in this folder")
        _ensure_venv_can_be_made()
        _call([sys.executable, "-m", "venv", "--clear", str(VENV)], "the folder .venv could not be made")
    STAMP.unlink(missing_ok=True)
    _say(f"setting up, once: fetching {'the tools for the tests' if extra else 'what the compiler needs'}")
    what = f"{ROOT}[{extra}]" if extra else str(ROOT)
    pip = [str(python), "-m", "pip", "install", "--quiet", "--no-cache-dir", "--disable-pip-version-check"]
    _call([*pip, "--editable", what], "the packages could not be fetched; is this machine on line?")
    # Compiled once here, as an ordinary install does: a machine set to write no byte code would compile at
    # every start.
    _call(
        [str(python), "-m", "compileall", "-q", str(ROOT / "compiler"), str(ROOT / "grammar")],
        "could not compile",
    )
    warm = "import sys; sys.dont_write_bytecode = False; from makegood.tree.lines import ready; ready()"
    _call([str(python), "-c", warm], "the compiler does not start")
    kept = sorted({*(held or []), "", extra})
    STAMP.write_text("\n".join([state, *kept[1:]]) + "\n", encoding="utf-8")
    _say("set up")
    return python


def _state() -> str:
    """What an environment must have been made for: this pyproject.toml, at this place."""
    told = (ROOT / "pyproject.toml").read_bytes().replace(b"\r\n", b"\n")
    return hashlib.sha256(told + b"\0" + os.fsencode(ROOT)).hexdigest()


def _held(state: str) -> list[str] | None:
    """The extras that the environment holds ("" stands for the package itself); None when it is for another
    state.
    """
    try:
        lines = STAMP.read_text(encoding="utf-8").splitlines()
    except OSError:
        return None
    return ["", *lines[1:]] if lines[:1] == [state] else None


def _works(python: Path) -> bool:
    """True for an environment whose Python starts, is new enough and has pip; one copied from elsewhere may
    not.
    """
    sound = f"sys.version_info >= {OLDEST} and os.path.samefile(sys.prefix, {str(VENV)!r})"
    asked = f"import os, sys, pip; sys.exit(0 if {sound} else 1)"
    try:
        return subprocess.run([str(python), "-c", asked], capture_output=True, check=False).returncode == 0
    except OSError:
        return False


def _ensure_venv_can_be_made() -> None:
    """Some systems ship Python without the part that makes environments: add it where we may, else say what
    to add.
    """
    if importlib.util.find_spec("ensurepip") and importlib.util.find_spec("venv"):
        return
    package = f"python{sys.version_info.major}.{sys.version_info.minor}-venv"
    if shutil.which("apt-get") is None:
        raise NotReady("this Python comes without venv and ensurepip; install the full Python of your system")
    if getattr(os, "geteuid", lambda: -1)() != 0:
        raise NotReady(f"a system package is missing:  sudo apt-get install python3-venv   (or {package})")
    _say(f"setting up, once: adding the system package {package}")
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    _call(["apt-get", "-qq", "update"], "apt-get found no package lists", quiet)
    _call(["apt-get", "-qq", "install", "--yes", package], f"{package} could not be installed", quiet)
    importlib.invalidate_caches()


def _call(command: list[str], failed: str, environment: dict[str, str] | None = None) -> None:
    """Run a step of the set-up without its chatter; raises NotReady with its last words when it fails."""
    done = subprocess.run(
        command,
        cwd=ROOT,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        check=False,
    )
    if done.returncode:
        last = "\n  ".join(done.stdout.strip().splitlines()[-6:])
        raise NotReady(f"{failed}\n  {last}")


def _say(text: str) -> None:
    print(text, file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(run_inside(["-m", "makegood", *sys.argv[1:]]))
