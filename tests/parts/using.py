"""A part that is not alike on any two sides, and recipes that stand beside others they use."""

from __future__ import annotations

from pathlib import Path

import makegood
from makegood.result import Result

STEP = """recipe "step, not alike on any two sides"

let tread = 12 from 5 to 40

block low
    long tread
    wide 8
    thick 3

block high
    on low.front
    long 4
    wide 5
    thick 6
    flush with low.left
    flush with low.bottom

bore eye
    drill 2.0
    from low.right centre 3
    from low.top centre 2.5
"""


def compiled(folder: Path, text: str, **files: str) -> Result:
    """A recipe beside others (name__sub for sub/name)."""
    for name, other in files.items():
        path = folder / (name.replace("__", "/") + ".mend")
        path.parent.mkdir(exist_ok=True)
        path.write_text(other, encoding="utf-8")
    return makegood.compile_text('recipe "whole"\n\n' + text, "whole.mend", folder=folder)


def codes(result: Result) -> list[str]:
    return [one.code for one in result.diagnostics]
