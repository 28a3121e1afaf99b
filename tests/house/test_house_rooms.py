"""The layout shows the flow: who may import whom, and that the developers' table names the rooms there
are.
"""

from __future__ import annotations

import ast
import sys
import tomllib
from pathlib import Path

import pytest

from .rooms import COMPILER, FLOW, KIND_FILES, ROOT, SUPPORT, imports, python_files, rooms, tracked, tree_of

OUTSIDE = {"numpy", "manifold3d", "lark", "msgspec", "reportlab", "PIL", "fontTools"}
OWNERS = {
    "lark": {"tree"},
    "manifold3d": {"mesh", "outlines", "imports"},
    "reportlab": {"outputs"},
    "PIL": {"outputs"},
    "fontTools": {"outputs", "quantities"},
}
FLAT_WORK = {"CrossSection", "FillRule", "JoinType", "OpType", "triangulate"}
FILES = python_files("compiler")


def _name(path: Path) -> str:
    return str(path.relative_to(COMPILER))


def _room(path: Path) -> str | None:
    parts = path.relative_to(COMPILER).parts
    return parts[0] if len(parts) > 1 and parts[0] != "commands" else None


def _allowed(room: str, file: str) -> set[str]:
    if room == "kinds" and file in KIND_FILES:
        serves = KIND_FILES[file]
        return {room, serves, *_allowed(serves, "")}
    if room in SUPPORT:
        # the tables of the trade answer an unknown screw or plastic in the writer's terms
        return {room, "diagnostics"}
    return {room, "version", *FLOW[: FLOW.index(room)], *SUPPORT} | (
        {"grammar"} if room == "language" else set()
    )


def test_the_rooms_are_the_agreed_ones():
    assert set(rooms()) == {*FLOW, *SUPPORT, "commands"}


def test_no_mesh_is_seen_between_the_imports_and_the_mesh_room():
    """The material of used parts goes past the claims and the places: no file there names it."""
    for path in python_files("compiler/facts", "compiler/network", "compiler/places", "compiler/model"):
        for module, names in imports(path):
            assert not {"ImportedMesh", "FinishedPart", "Imports"} & set(names), path
            assert not module.startswith("makegood.imports.") or module == "makegood.imports.types", path


@pytest.mark.parametrize("path", [path for path in FILES if _room(path)], ids=_name)
def test_a_room_imports_earlier_rooms_and_support_only(path: Path):
    room = _room(path)
    assert room is not None
    for module, _ in imports(path):
        parts = module.split(".")
        if parts[0] == "makegood":
            assert len(parts) > 1, f"{path}: a room imports the whole package"
            assert parts[1] in _allowed(room, path.name), f"{path}: {room} imports {module}"


def test_the_graph_is_not_empty():
    """Proof that the test above saw something: the rooms lean on each other dozens of times."""
    ours = [module for path in FILES for module, _ in imports(path) if module.startswith("makegood.")]
    assert len(ours) > 50


def test_ours_is_imported_by_relative_names():
    for path in FILES:
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.Import):
                assert not any(
                    alias.name.split(".")[0] in ("makegood", "compiler") for alias in node.names
                ), path
            elif isinstance(node, ast.ImportFrom) and not node.level:
                assert (node.module or "").split(".")[0] not in ("makegood", "compiler"), path


def test_only_our_libraries_and_each_with_its_owners():
    for path in FILES:
        for module, _ in imports(path):
            name = module.split(".")[0]
            if name in sys.stdlib_module_names or name == "makegood":
                continue
            assert name in OUTSIDE, f"{path} imports {name}"
            assert _room(path) in OWNERS.get(name, {_room(path)}), f"{path} imports {name}"


@pytest.mark.parametrize("room", ["outlines", "imports"])
def test_only_flat_work_is_taken_from_the_kernel_before_the_mesh(room: str):
    seen = 0
    for path in python_files(f"compiler/{room}"):
        aliases = set()
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.Import):
                aliases |= {alias.asname or alias.name for alias in node.names if alias.name == "manifold3d"}
            elif isinstance(node, ast.ImportFrom) and node.module == "manifold3d":
                seen += 1
                assert {alias.name for alias in node.names} <= FLAT_WORK, path
        for node in ast.walk(tree_of(path)):
            if (
                isinstance(node, ast.Attribute)
                and isinstance(node.value, ast.Name)
                and node.value.id in aliases
            ):
                seen += 1
                assert node.attr in FLAT_WORK, f"{path}:{node.lineno} uses {node.attr}"
    assert seen


def test_an_install_takes_every_folder_of_code_along():
    """An editable install works without this list, a plain one leaves out what it does not name."""
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]
    ours = [path.parent.relative_to(COMPILER).parts for path in COMPILER.rglob("__init__.py")]
    assert set(settings["packages"]) == {
        "makegood.grammar",
        *(".".join(("makegood", *parts)) for parts in ours),
    }
    covered = {
        entry for name, patterns in settings["package-data"].items() for entry in _matching(name, patterns)
    }
    data = {path for path in tracked() if path.is_relative_to(COMPILER) and path.suffix != ".py"}
    assert data <= covered


def _matching(name: str, patterns: list[str]) -> list[Path]:
    folder = ROOT / "grammar" if name == "makegood.grammar" else COMPILER.joinpath(*name.split(".")[1:])
    return [path for pattern in patterns for path in folder.glob(pattern)]


def test_the_developers_table_names_every_room_and_its_verb():
    """Rows of the table whose head is `| room | verb | ... |`; rooms and verbs stand in back-ticks, `-` for
    no verb.
    """
    lines = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines()
    start = next(at for at, line in enumerate(lines) if _cells(line)[:2] == ["room", "verb"])
    table: dict[str, str] = {}
    for line in lines[start + 2 :]:
        if not line.startswith("|"):
            break
        room, verb, *_ = _cells(line)
        table[room.rstrip("/")] = verb
    assert set(table) == set(rooms())
    order = [room for room in table if room in FLOW]
    assert order == list(FLOW)
    for room, verb in table.items():
        for name in [] if verb == "-" else verb.replace(",", " ").split():
            assert name in _exposed(room), f"{room} has no verb {name}"


def _cells(line: str) -> list[str]:
    return [cell.strip().strip("`").replace("`", "") for cell in line.strip().strip("|").split("|")]


def _exposed(room: str) -> set[str]:
    for node in tree_of(COMPILER / room / "__init__.py").body:
        if isinstance(node, ast.Assign) and any(
            getattr(each, "id", "") == "__all__" for each in node.targets
        ):
            return set(ast.literal_eval(node.value))
    return set()
