"""A mesh file of either kind, by its ending."""

from __future__ import annotations

import os
from pathlib import Path

from ..diagnostics.types import Trouble
from .meshes import MOST_BYTES, RawMesh, read_stl
from .threemf_in import read_threemf


def read_mesh(path: Path) -> RawMesh:
    """The triangles of an STL or 3MF file.  Raises Trouble: 'mesh-unread', 'file-too-big' or
    'no-such-file'.
    """
    try:
        with path.open("rb") as stream:
            # asked for more than there is, the system sets all of it aside
            data = stream.read(min(os.fstat(stream.fileno()).st_size, MOST_BYTES) + 1)
    except OSError as error:
        raise Trouble(
            "no-such-file", f"{path.name} can't be read: {error.strerror or 'the system refused'}"
        ) from None
    if len(data) > MOST_BYTES:
        raise Trouble(
            "file-too-big",
            f"{path.name} is larger than {MOST_BYTES // 1_000_000} MB",
            advice=("make it coarser in the program it comes from",),
        )
    if path.suffix.lower() == ".3mf":
        return read_threemf(data, path.name)
    return read_stl(data, path.name)
