"""Texts made to break the compiler are answered with a message, in little memory."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from .hostile import CASES

MOST_MB = 500
GENEROUS = 120  # seconds: speed is not what is tested here, only that an answer comes


@pytest.mark.parametrize("name", [*CASES, "50 MB file"])
def test_a_hostile_text_is_answered_in_little_memory(name: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.properties.hostile", name],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        timeout=GENEROUS,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    seconds, ok, errors, memory = done.stdout.split()
    print(f"{name}: {seconds} s, {errors} errors, {memory} MB")
    assert ok == "0"
    assert int(errors) >= 1
    assert float(memory) < MOST_MB
