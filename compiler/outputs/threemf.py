"""The part as a 3MF package: one object, in millimetres, with its recipe card as metadata.

Source: 3MF Core Specification (3MF Consortium, core namespace 2015/02) for the model, its mesh and its
metadata; Open Packaging Conventions (ISO/IEC 29500-2) for the package.

Problem: the same recipe must give the same bytes on every machine.  A ZIP entry may be deflated or stored.
What deflate makes of the same input is the compressor's affair: its builds differ between operating systems
and releases, and so would our bytes.  Choice: entries are stored, and dates, order, attributes and versions
in the package are fixed.  The price is size: about 70 bytes a triangle, one megabyte for a part of 15,000
triangles.  Rejected: deflate at a fixed level (same bytes on one machine only), a compressor of our own (a
hundred lines that save a disk block)."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator, Mapping

from ..mesh.types import Mesh
from ..version import VERSION
from .rows import decimal_rows, index_rows
from .sound import demand_sound
from .xml_text import xml_attribute, xml_names, xml_text

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
# names the vocabulary of the card; any fixed UUID would do
CARD = "urn:uuid:6d1f7c52-0b7e-4c0e-9a43-2f5b8a1c9e70"
CARD_PREFIX = "mend"
MODEL_PART = "3D/3dModel.model"
_START = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
_RELATIONSHIPS = "http://schemas.openxmlformats.org/package/2006/relationships"
_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
_RELATIONSHIPS_TYPE = "application/vnd.openxmlformats-package.relationships+xml"
_MODEL_TYPE = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"
_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_EARLIEST = (1980, 1, 1, 0, 0, 0)  # the first moment that a ZIP entry can be dated

# Fields of the card that the core specification has a name for; everything else goes under our own prefix.
_STANDARD = {
    "designer": "Designer",
    "by": "Designer",
    "description": "Description",
    "copyright": "Copyright",
    "licenceterms": "LicenseTerms",
    "licenseterms": "LicenseTerms",
    "licence": "LicenseTerms",
    "license": "LicenseTerms",
    "rating": "Rating",
}


def threemf_bytes(mesh: Mesh, card: Mapping[str, str], title: str) -> bytes:
    """A whole 3MF file: the mesh as it lies (mm, rounded to 1e-6), the card's fields and the title as
    metadata.

    The caller has moved the part into the positive octant.  The order of the card's fields does not matter;
    blank fields are left out.  Raises Trouble('bad-solid') for a mesh that is not closed, turned inside out
    or empty."""
    demand_sound(mesh)
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_STORED) as package:
        _add(package, "[Content_Types].xml", _content_types().encode("ascii"))
        _add(package, "_rels/.rels", _root_relationships().encode("ascii"))
        _add(package, MODEL_PART, b"".join(_model(mesh, card, title)))
    return held.getvalue()


def _add(package: zipfile.ZipFile, name: str, data: bytes) -> None:
    """One stored entry that says nothing of the day or the machine it was made on."""
    entry = zipfile.ZipInfo(name, _EARLIEST)
    entry.create_system = 0
    entry.external_attr = 0x20  # an ordinary file; zero would be filled in by zipfile
    package.writestr(entry, data, zipfile.ZIP_STORED)


def _content_types() -> str:
    return (
        f'{_HEAD}<Types xmlns="{_TYPES}">'
        f'<Default Extension="rels" ContentType="{_RELATIONSHIPS_TYPE}"/>'
        f'<Default Extension="model" ContentType="{_MODEL_TYPE}"/></Types>\n'
    )


def _root_relationships() -> str:
    return (
        f'{_HEAD}<Relationships xmlns="{_RELATIONSHIPS}">'
        f'<Relationship Id="part" Type="{_START}" Target="/{MODEL_PART}"/></Relationships>\n'
    )


def _model(mesh: Mesh, card: Mapping[str, str], title: str) -> Iterator[bytes]:
    """The model part, piece by piece."""
    named = f' name="{xml_attribute(title)}"' if title.strip() else ""
    yield (
        f'{_HEAD}<model unit="millimeter" xml:lang="en-US" xmlns="{CORE}" xmlns:{CARD_PREFIX}="{CARD}">\n'
        f"{_metadata(card, title)}<resources>\n"
        f'<object id="1" type="model"{named}>\n<mesh>\n<vertices>\n'
    ).encode()
    yield from decimal_rows(('<vertex x="', '" y="', '" z="', '"/>\n'), mesh.points)
    yield b"</vertices>\n<triangles>\n"
    yield from index_rows(('<triangle v1="', '" v2="', '" v3="', '"/>\n'), mesh.triangles)
    yield (
        b'</triangles>\n</mesh>\n</object>\n</resources>\n<build>\n<item objectid="1"/>\n</build>\n</model>\n'
    )


def _metadata(card: Mapping[str, str], title: str) -> str:
    """One element a field; `preserve` asks a program that changes the model to keep the card."""
    standard = {"Title": title, "Application": f"makegood {VERSION}"}
    own: dict[str, str] = {}
    for field in sorted(card):
        if not card[field].strip():
            continue
        name = _STANDARD.get(field.strip().casefold().replace(" ", ""))
        if name is not None and name not in standard:
            standard[name] = card[field]
        else:
            own[field] = card[field]
    named = [(name, standard[name]) for name in sorted(standard) if standard[name].strip()]
    named += [(f"{CARD_PREFIX}:{name}", own[field]) for name, field in zip(xml_names(own), own, strict=True)]
    return "".join(
        f'<metadata name="{name}" preserve="1">{xml_text(value)}</metadata>\n' for name, value in named
    )
