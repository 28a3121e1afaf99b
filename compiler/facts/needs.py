"""Classes of statements and groups of facts that the rooms ask for by name.

Which kinds belong to a class, what a kind needs and which of its facts exclude one another stand in the table
of line shapes (`grammar/recipe.shapes`); only what the table can't say stands here."""

from __future__ import annotations

from ..language.shapes import members

BROUGHT = members("BROUGHT")  # bodies that come from a file
BOXES = members("block") | BROUGHT  # bodies with a box of three sizes
BODIES = members("BODY")
HOLES = members("HOLE")
ZONES = members("ZONE")
PATTERNS = members("PATTERN")
CENTRED = members("CENTRED")  # placed by their middle, and can be read to
EDGED = CENTRED - {"point"}

USUAL_CLEAR = 0.3  # mm across between a thread and its mate; common practice, no source
THREAD_WORDS = ("thread", "screws on", "screws into")
ROUND_FITS = ("turns on", "slides on", "pushes on", "press on", "stretches on")  # on a shaft, all round
FIT_WORDS = (*ROUND_FITS, "clears", "bites", *THREAD_WORDS, "as read")

# The sizes of a block (and of what is cut or measured like one) run across, up and towards the reader in this
# order.
BOX_WORDS = ("long", "wide", "high", "thick")
SIZE_WORDS = (
    "across",
    "flat",
    "flats",
    "hex",
    "square",
    *BOX_WORDS,
    "deep",
    "radius",
    "rise",
    "drill",
    "core",
    "crest",
    "foot",
    "module",
    "span",
)
