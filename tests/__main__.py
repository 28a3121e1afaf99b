"""Runs every test of the project: `python3 tests`, on a machine that has nothing but Python and a package
index.

First the text is checked (ruff), then the types (mypy, strict), then the behaviour (pytest, on every core);
all three always run.  `--long` adds the long tests; everything else on the command line is handed to pytest.
The page of `view` is tested in a browser: where Chromium is missing and may be added (Debian, as root), it is
added first."""

from __future__ import annotations

import os
import sys

if __name__ == "__main__":
    _folder = os.path.dirname(os.path.abspath(__file__))
    sys.path[:] = [entry for entry in sys.path if os.path.abspath(entry or os.curdir) != _folder]

import importlib.util
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import cast

ROOT = Path(__file__).resolve().parent.parent


def main(arguments: list[str]) -> int:
    """Run the three, pytest last, and return 0 only when all of them are content."""
    run_inside = _borrowed()
    os.chdir(ROOT)
    more = {"MAKEGOOD_LONG": "1"} if "--long" in arguments else {}
    rest = [argument for argument in arguments if argument != "--long"]
    if not any(argument.startswith("-n") for argument in rest):
        rest = ["-n", "auto", *rest]
    steps = (
        ("ruff", ["-m", "ruff", "check", "."]),
        ("mypy", ["-m", "mypy", "--strict"]),
        ("pytest", ["-m", "pytest", *rest]),
    )
    failed = 0
    for name, command in steps:
        code = run_inside(command, "test", more)
        if code == 130 or (code and name == "pytest"):
            return code
        if code:
            print(f"{name} is not content", file=sys.stderr, flush=True)
            failed = failed or code
    return failed


def add_browser() -> None:
    """Add Debian's Chromium where it is missing and this account may; else the tests that need it are left
    out, and say so.
    """
    if (
        shutil.which("chromium")
        or shutil.which("apt-get") is None
        or getattr(os, "geteuid", lambda: -1)() != 0
    ):
        return
    print(
        "setting up, once: adding the system package chromium for the tests of the page",
        file=sys.stderr,
        flush=True,
    )
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for step in (["update"], ["install", "--yes", "--no-install-recommends", "chromium"]):
        done = subprocess.run(
            ["apt-get", "-qq", *step],
            env=quiet,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
            check=False,
        )
        if done.returncode:
            print(
                "\n  ".join(["chromium could not be added", *done.stdout.strip().splitlines()[-4:]]),
                file=sys.stderr,
            )
            return


def _borrowed() -> Callable[[list[str], str, dict[str, str]], int]:
    """`run_inside` of the compiler's own start file, loaded by its path: nothing is installed yet."""
    spec = importlib.util.spec_from_file_location("makegood_start", ROOT / "compiler" / "__main__.py")
    if spec is None or spec.loader is None:
        raise SystemExit("compiler/__main__.py is missing from this copy")
    start = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(start)
    return cast("Callable[[list[str], str, dict[str, str]], int]", start.run_inside)


if __name__ == "__main__":
    add_browser()
    sys.exit(main(sys.argv[1:]))
