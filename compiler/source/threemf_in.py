"""Reads the triangles of a 3MF package: the objects that its build lists, put where it puts them.

Source: 3MF Core Specification, core namespace 2015/02; Open Packaging Conventions (ISO/IEC 29500-2).

A package is a ZIP of XML, and both can be made to burst: so entries are counted, sizes are held against what
is really unpacked, a document type (the only way to define entities) is refused, and objects may contain one
another only so deep and so often.  The XML is read as it streams, one element at a time; no tree of it is
ever built."""

from __future__ import annotations

import io
import lzma
import struct
import zipfile
import zlib
from array import array
from collections.abc import Callable
from xml.parsers import expat

import numpy as np
import numpy.typing as npt
from msgspec import Struct, field

from ..diagnostics.types import Trouble
from ..quantities.rows import distinct_rows
from .meshes import MOST_TRIANGLES, RawMesh, bounded, finite, standing, unread

MOST_ENTRIES = 2_000
MOST_UNPACKED = 100_000_000
MOST_OBJECTS = 2_000
MOST_POINTS = 3 * MOST_TRIANGLES
MOST_ELEMENTS = MOST_POINTS + MOST_TRIANGLES + 100_000
DEEPEST = 16
CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
_MODEL_RELATION = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
_UNITS = {
    "micron": 0.001,
    "millimeter": 1.0,
    "centimeter": 10.0,
    "inch": 25.4,
    "foot": 304.8,
    "meter": 1000.0,
}
_CHUNK = 1 << 20
# What the ZIP reader raises for places and sizes that can't be, for names that are no text, for other ways of
# packing.
_DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    struct.error,
    EOFError,
    NotImplementedError,
    RuntimeError,
    KeyError,
    ValueError,
    OverflowError,
    OSError,
)
Turn = npt.NDArray[np.float64]


class _Object(Struct):
    """One object: its mesh as flat arrays, or the objects it is put together from."""

    points: array[float] = field(default_factory=lambda: array("d"))
    corners: array[int] = field(default_factory=lambda: array("q"))
    parts: list[tuple[str, Turn]] = field(default_factory=list)


class _Model:
    """What the elements of a model part say, gathered as they come."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.unit = 1.0
        self.objects: dict[str, _Object] = {}
        self.items: list[tuple[str, Turn]] = []
        self.at_work: _Object | None = None
        self.seen = 0

    def element(self, tag: str, given: dict[str, str]) -> None:
        """Take one element of the core namespace."""
        act: Callable[[dict[str, str]], None] | None = {
            "vertex": self._vertex,
            "triangle": self._triangle,
            "object": self._object,
            "component": self._component,
            "item": self._item,
            "model": self._whole,
        }.get(tag)
        if act is not None:
            try:
                act(given)
            except (KeyError, ValueError, OverflowError):
                raise unread(self.name, f"has a <{tag}> that says too little or no number") from None

    def _whole(self, given: dict[str, str]) -> None:
        self.unit = _UNITS[given.get("unit", "millimeter")]

    def _object(self, given: dict[str, str]) -> None:
        self.at_work = self.objects[given["id"]] = _Object()
        if len(self.objects) > MOST_OBJECTS:
            raise unread(self.name, f"holds more than {MOST_OBJECTS} objects")

    def _vertex(self, given: dict[str, str]) -> None:
        if self.at_work is not None:
            self.at_work.points.extend((float(given["x"]), float(given["y"]), float(given["z"])))
            self.seen += 1
            if self.seen > MOST_POINTS:
                bounded(MOST_TRIANGLES + 1, self.name)

    def _triangle(self, given: dict[str, str]) -> None:
        if self.at_work is not None:
            self.at_work.corners.extend((int(given["v1"]), int(given["v2"]), int(given["v3"])))
            bounded(len(self.at_work.corners) // 3, self.name)

    def _component(self, given: dict[str, str]) -> None:
        if self.at_work is not None:
            self.at_work.parts.append((self._own(given), _turn(given.get("transform"))))
            if len(self.at_work.parts) > MOST_OBJECTS:
                raise unread(self.name, f"puts an object together from more than {MOST_OBJECTS}")

    def _item(self, given: dict[str, str]) -> None:
        self.items.append((self._own(given), _turn(given.get("transform"))))
        if len(self.items) > MOST_OBJECTS:
            raise unread(self.name, f"builds more than {MOST_OBJECTS} objects")

    def _own(self, given: dict[str, str]) -> str:
        if any(key.endswith("path") for key in given):
            raise unread(self.name, "keeps its objects in several model parts, which is not read here")
        return given["objectid"]


def read_threemf(data: bytes, name: str) -> RawMesh:
    """A 3MF file.  Raises Trouble('mesh-unread') or Trouble('file-too-big')."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            if len(package.infolist()) > MOST_ENTRIES:
                raise unread(name, f"is a package of more than {MOST_ENTRIES} files")
            model = _Model(name)
            _parse(package, _model_part(package, name), name, model.element)
    except _DAMAGED as error:
        raise unread(name, "is no 3MF package, or a damaged one") from error
    points, triangles = _built(model)
    if not len(triangles):
        raise unread(name, "holds no facets")
    held, place = distinct_rows(finite(points, name) + 0.0)
    return RawMesh(held, standing(place[triangles]), model.unit)


def _model_part(package: zipfile.ZipFile, name: str) -> str:
    """The name of the part that the package's relationships call the model."""
    found: list[str] = []

    def element(tag: str, given: dict[str, str]) -> None:
        if tag == "Relationship" and given.get("Type") == _MODEL_RELATION:
            found.append(given.get("Target", "").lstrip("/"))

    _parse(package, "_rels/.rels", name, element)
    known = {one.filename.lower(): one.filename for one in package.infolist()}
    for one in found:
        if one.lower() in known:
            return known[one.lower()]
    raise unread(name, "names no model in its relationships")


def _parse(
    package: zipfile.ZipFile, entry: str, name: str, element: Callable[[str, dict[str, str]], None]
) -> None:
    """Stream one entry of the package through the XML parser; tags are given without their namespace."""
    parser = expat.ParserCreate(namespace_separator="|")

    def refuse(*_: object) -> None:
        raise unread(name, "declares a document type, which no 3MF file needs")

    parser.StartDoctypeDeclHandler = refuse
    parser.EntityDeclHandler = refuse
    parser.buffer_text = True

    seen = 0

    def start(tag: str, given: dict[str, str]) -> None:
        nonlocal seen
        seen += 1
        if seen > MOST_ELEMENTS:
            bounded(MOST_TRIANGLES + 1, name)
        space, _, local = tag.rpartition("|")
        if space in (CORE, "") or space.endswith("relationships"):
            element(local, given)

    parser.StartElementHandler = start
    unpacked = 0
    with package.open(entry) as stream:
        while chunk := stream.read(_CHUNK):
            unpacked += len(chunk)
            if unpacked > MOST_UNPACKED:
                raise Trouble(
                    "file-too-big",
                    f"{name} unpacks to more than {MOST_UNPACKED // 1_000_000} MB",
                    advice=("make it coarser in the program it comes from",),
                )
            _feed(parser, chunk, False, name)
    _feed(parser, b"", True, name)


def _feed(parser: expat.XMLParserType, chunk: bytes, last: bool, name: str) -> None:
    try:
        parser.Parse(chunk, last)
    except expat.ExpatError as error:
        raise unread(name, f"holds XML that breaks off or is wrong at line {error.lineno}") from None


def _turn(text: str | None) -> Turn:
    """A transform of the core specification: twelve numbers m00 m01 m02 m10 ... m32 as a matrix (4, 3); rows
    multiply.
    """
    if text is None:
        return np.vstack([np.eye(3), np.zeros(3)])
    numbers = [float(one) for one in text.split()]
    if len(numbers) != 12 or not np.isfinite(numbers).all() or max(map(abs, numbers)) > 1e6:
        raise ValueError("a transform has twelve numbers")
    return np.array(numbers, dtype=np.float64).reshape(4, 3)


def _built(model: _Model) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.int64]]:
    """All that the build lists, in one frame: points (n, 3), triangles (m, 3)."""
    points: list[npt.NDArray[np.float64]] = []
    triangles: list[npt.NDArray[np.int64]] = []
    waiting = [(one, turn, 0) for one, turn in reversed(model.items)]
    count = started = steps = 0
    while waiting:
        number, turn, depth = waiting.pop()
        steps += 1
        held = model.objects.get(number)
        if held is None:
            raise unread(model.name, f"builds object {number[:12]}, which it does not hold")
        if depth > DEEPEST or steps > MOST_OBJECTS:
            raise unread(model.name, "puts objects together too deep, too often or in a circle")
        waiting += [(one, _then(step, turn), depth + 1) for one, step in reversed(held.parts)]
        corners = np.array(held.corners, dtype=np.int64).reshape(-1, 3)
        if not len(corners):
            continue
        own = finite(np.array(held.points, dtype=np.float64).reshape(-1, 3), model.name)
        if corners.min() < 0 or corners.max() >= len(own):
            raise unread(model.name, "has a triangle with a corner that is not there")
        count += len(corners)
        bounded(count, model.name)
        points.append(own @ turn[:3] + turn[3])
        triangles.append((corners if np.linalg.det(turn[:3]) > 0 else corners[:, ::-1]) + started)
        started += len(own)
    if not points:
        return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64)
    return np.concatenate(points), np.concatenate(triangles)


def _then(first: Turn, second: Turn) -> Turn:
    """One transform after another."""
    return np.vstack([first[:3] @ second[:3], first[3] @ second[:3] + second[3]])
