"""A `view` at work on a recipe of its own, and a browser to look at it."""

from __future__ import annotations

import contextlib
import io
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
PAPER = np.array([247, 244, 236])
PATIENCE = 60_000  # ms; a generous limit for a machine that does much else
FLAGS = [
    "--no-sandbox",
    "--disable-dev-shm-usage",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
]

# 60 x 40, 6 thick: a bevelled plate with a blind hole, a raised collar and a let-in slot
PLATE = """recipe "test plate"
    plastic PETG

block body
    long       60.0
    wide       40.0
    thick      6.0
    bevel      2 at front

bore blind
    drill      10.0 not 10.1
    deep       3.0 from front
    from body.left centre 15.0
    from body.bottom centre 20.0

bore through_hole
    drill      6.0 not 6.1
    from body.left centre 45.0
    from body.bottom centre 20.0

thicken pad
    on         body.front
    collar     through_hole to 16.0 overall
    by         1.0
"""


def hears_ctrl_c() -> None:
    """A run in the background may hand down that Ctrl-C is not heard."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


HEARD = hears_ctrl_c if os.name == "posix" else None


@contextlib.contextmanager
def viewing(path: Path, *more: str) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    """`makegood view` on a file: its address and its process, ended by Ctrl-C."""
    command = [sys.executable, "-m", "makegood", "view", str(path), "--no-open", *more]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, preexec_fn=HEARD
    ) as child:
        assert child.stdout is not None
        try:
            yield child.stdout.readline().strip(), child
        finally:
            if child.poll() is None:
                child.send_signal(signal.SIGINT)
                try:
                    child.wait(timeout=30)
                except subprocess.TimeoutExpired:
                    child.kill()


@contextlib.contextmanager
def browser() -> Iterator[Any]:
    """Headless Chromium that draws 3D without a graphics card."""
    if CHROMIUM is None:
        reason = "there is no Chromium here; on Debian: apt-get install chromium"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        try:
            yield opened
        finally:
            opened.close()


def edition(page: Any, number: int) -> int:
    """Wait until the page has drawn an edition or a later one (a slow disk may split a save in two); which
    one that is.
    """
    end = time.monotonic() + PATIENCE / 1000
    while True:
        shown = int(page.evaluate("document.documentElement.dataset.shown || 0"))
        if shown >= number:
            return shown
        assert time.monotonic() < end, f"edition {number} does not come"
        page.wait_for_timeout(20)


def until(page: Any, selector: str, text: str) -> None:
    """Wait until something on the page says a text."""
    page.locator(selector, has_text=text).first.wait_for(timeout=PATIENCE)


def pixels(page: Any) -> npt.NDArray[np.int64]:
    """What the canvas shows, rows x columns x 3; names in the margins are left out."""
    page.evaluate("document.querySelector('#leaders').style.visibility = 'hidden'")
    page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    data = page.locator("#part").screenshot()
    page.evaluate("document.querySelector('#leaders').style.visibility = ''")
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB")).astype(np.int64)


def inked(picture: npt.NDArray[np.int64]) -> npt.NDArray[np.bool_]:
    """Where a picture is not bare paper."""
    found: npt.NDArray[np.bool_] = np.abs(picture - PAPER).max(axis=2) > 4
    return found


def extent(page: Any) -> tuple[int, int, int, int]:
    """Left, top, right and bottom of what is drawn, in pixels of the canvas."""
    rows, columns = np.nonzero(inked(pixels(page)))
    return int(columns.min()), int(rows.min()), int(columns.max()), int(rows.max())
