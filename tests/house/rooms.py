"""The files of the project as the house tests see them: which there are, what they import, what they
define.
"""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
COMPILER = ROOT / "compiler"
FLOW = (
    "source",
    "language",
    "tree",
    "imports",
    "facts",
    "network",
    "places",
    "model",
    "outlines",
    "mesh",
    "callipers",
    "checks",
    "outputs",
)
SUPPORT = ("quantities", "diagnostics", "kinds")
# A file of a kind's folder works in the room that asks it.
KIND_FILES = {
    "imports.py": "imports",
    "claims.py": "facts",
    "sizes.py": "facts",
    "made.py": "facts",
    "stations.py": "facts",
    "form.py": "facts",
    "model.py": "model",
    "racks.py": "model",
    "section.py": "outlines",
    "solid.py": "mesh",
    "material.py": "mesh",
    "growing.py": "mesh",
    "layers.py": "mesh",
    "finished.py": "mesh",
    "ridges.py": "mesh",
    "stretches.py": "mesh",
    "profile.py": "mesh",
    "edges.py": "mesh",
    "corners.py": "mesh",
    "threads.py": "mesh",
    "threaded.py": "mesh",
    "grips.py": "mesh",
    "teeth.py": "mesh",
    "buried.py": "mesh",
    "callipers.py": "callipers",
    "worked.py": "callipers",
    "gripped.py": "callipers",
    "rack_callipers.py": "callipers",
    "edge_callipers.py": "callipers",
    "checks.py": "checks",
    "rack_checks.py": "checks",
    "snaps.py": "checks",
    "walls.py": "checks",
    "slits.py": "checks",
    "hidden.py": "checks",
    "notes.py": "outputs",
    "figures.py": "outputs",
}


def rooms() -> list[str]:
    """Folders of the compiler that hold code."""
    return sorted(path.parent.name for path in COMPILER.glob("*/__init__.py"))


def tracked() -> list[Path]:
    """Every file that the repository keeps or would keep, where git can tell; else every file not made by a
    tool.
    """
    asked = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    try:
        listed = subprocess.run(asked, cwd=ROOT, capture_output=True, check=True).stdout.decode().split("\0")
        files = [ROOT / name for name in listed if name]
    except (OSError, subprocess.CalledProcessError):
        files = [path for path in ROOT.rglob("*") if not _made(path.relative_to(ROOT))]
    return sorted(path for path in files if path.is_file())


def _made(path: Path) -> bool:
    tools = ("__pycache__", "build", "dist", "makegood.egg-info")
    return any(part in tools or part.startswith(".") for part in path.parts if part != ".ci")


def python_files(*folders: str) -> list[Path]:
    """Python files below the given folders of the repository."""
    wanted = tuple(ROOT / folder for folder in folders)
    return [
        path
        for path in tracked()
        if path.suffix == ".py" and any(path.is_relative_to(each) for each in wanted)
    ]


def tree_of(path: Path) -> ast.Module:
    """The syntax tree of a file."""
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def imports(path: Path) -> Iterator[tuple[str, tuple[str, ...]]]:
    """What a file of the compiler imports: (dotted module, names taken from it), ours as
    `makegood.room.file`.
    """
    package = ("makegood", *path.relative_to(COMPILER).parts[:-1])
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, ()
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else ()
            module = ".".join((*base, *(node.module.split(".") if node.module else ())))
            names = tuple(alias.name for alias in node.names)
            if node.level and node.module is None:  # `from .. import x`: x may be a room
                for name in names:
                    yield f"{module}.{name}", ()
            else:
                yield module, names
