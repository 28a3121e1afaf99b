"""Made-up kinds in folders of their own, beside ours, and a recipe compiled with them."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

RUN = """
import json, sys
import makegood.kinds
makegood.kinds.__path__.append(sys.argv[1])
import makegood
from makegood.outputs.paper import checks, drawing_sheet
from makegood.outputs.paper.marks import Text


def paper(part):
    scene = part._scene()
    return {
        "drawn": [one.text for one in drawing_sheet(scene).marks if isinstance(one, Text)],
        "measured": {one.key: one.value for one in checks(scene)},
    }


part = makegood.compile_text('recipe "x"\\n' + sys.argv[2])
print(json.dumps({
    "ok": part.ok, "said": [one.headline for one in part.diagnostics],
    "codes": [one.code for one in part.diagnostics],
    "volume": part.figures.volume if part.figures else None,
    "watertight": part.figures.watertight if part.figures else None,
    **(paper(part) if part.ok else {}),
}))
"""


def compiled(folder: Path, kind: str, files: Mapping[str, str], text: str) -> dict[str, object]:
    """What came of a recipe where a kind stands in `folder`; a process of its own, as kinds are read once."""
    home = folder / kind
    home.mkdir(exist_ok=True)
    for name, content in files.items():
        (home / name).write_text(content, encoding="utf-8")
    told = subprocess.run(
        [sys.executable, "-c", RUN, str(folder), text],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
    )
    return dict(json.loads(told.stdout))
