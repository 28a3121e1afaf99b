"""What each kind of statement needs, which facts exclude one another, and what kind of thing each slot speaks
of.

Three small tables; a kind that stands in a folder of its own states its rows there (`kinds`)."""

from __future__ import annotations

from ..kinds import own_bodies

_OWN = own_bodies()  # kinds that stand in a folder of their own

BROUGHT = frozenset({"use", "blank"})  # bodies that come from a file
BOXES = frozenset({"block"}) | BROUGHT  # bodies with a box of three sizes
BODIES = frozenset({"plate", "block", "strip", "turning", "peg", "rib", "fillet"}) | BROUGHT | set(_OWN)
HOLES = frozenset({"bore", "slot", "notch"})
SHAPES = frozenset({"round", "rectangle", "web", "arc"})
ZONES = frozenset({"thicken", "relieve"})
PATTERNS = frozenset({"row", "ring", "grid", "mirror"})
CENTRED = (
    frozenset(
        {
            "point",
            "round",
            "bore",
            "slot",
            "notch",
            "rectangle",
            "block",
            "turning",
            "peg",
            "neighbour",
            "mark",
        }
    )
    | BROUGHT
    | {kind for kind, own in _OWN.items() if own.centred}
)
ROUNDS = frozenset({"round", "bore", "turning", "peg", "neighbour"})
EDGED = CENTRED - {"point"}

TOOTHED = ("hex", "square", "flat", "flats", "serrated", "splines")
USUAL_CLEAR = 0.3  # mm across between a thread and its mate; common practice, no source
SNAP_WORDS = ("arm", "springs", "bead")
THREAD_WORDS = ("thread", "screws on", "screws into")
ROUND_FITS = ("turns on", "slides on", "pushes on", "press on", "stretches on")  # on a shaft, all round
FIT_WORDS = (*ROUND_FITS, "clears", "bites", *THREAD_WORDS, "as read")
# A thread is round: no other shape goes with it.
_UNTHREADED = tuple((shape, word) for shape in TOOTHED for word in THREAD_WORDS)
_HOLE_SIZE = ("drill", "across", "same as", "hex", "square", *FIT_WORDS[:-1])

# kind -> groups of facts of which at least one is needed, each with what to write.
NEEDS: dict[str, tuple[tuple[tuple[str, ...], str], ...]] = {
    "round": ((("across", "chord", "same as"), "across 16.0   or   chord 20.0 and rise 3.0"),),
    "bore": ((_HOLE_SIZE, "drill 6.0 not 6.1   or   across 6.1   or   clears M4"),),
    "slot": (
        (("drill", "wide", "same as", *FIT_WORDS[:-1]), "drill 5.0 not 5.1   or   wide 5.0"),
        (("long", "ends"), "long 13.0   or   ends a, b"),
    ),
    "peg": ((("across", "same as", "hex", "square", *FIT_WORDS[:-1]), "across 6.0"), (("high",), "high 5.0")),
    "plate": (
        (("thick", "taper"), "thick 3.0   or   taper 6.4 at hub, 2.2 at tip"),
        (("outline", "belt", "chain", "merge"), "outline a, b, c   or   belt a, b   or   merge a, b"),
    ),
    "strip": ((("thick",), "thick 2.0"), (("wide",), "wide 12.0"), (("path",), "path a, b, c")),
    "turning": ((("across", "taper"), "across 14.0 from 0 to 6.0"),),
    "web": ((("joins",), "joins a, b"), (("wide",), "wide 6.0")),
    "arc": ((("rise", "radius"), "rise 3.0   or   radius 25"),),
    "rib": (
        (("thick",), "thick 2.0"),
        (("between", "along"), "between leaf.front, base.top   or   along a, b"),
    ),
    "fillet": ((("between",), "between leaf.front, base.top"), (("radius",), "radius 2")),
    "mark": (
        (("on",), "on cover.front"),
        (("says", "arrow"), 'says "LID 2"   or   arrow'),
        (("high",), "high 5.0"),
        (("raised", "sunk"), "raised 0.6   or   sunk 0.4"),
    ),
    "plane": (
        (
            ("stands on", "raised", "dropped", "square to", "leans"),
            "stands on edge   or   raised 5.0 from base.front",
        ),
    ),
    "thicken": (
        (("on",), "on body.front"),
        (("along", "collar", "inside"), "collar pivot to 12 overall"),
        (("by", "to"), "by 2.0   or   to 6.0 overall"),
    ),
    "relieve": (
        (("on",), "on body.front"),
        (("along", "collar", "inside"), "inside patch"),
        (("by", "to"), "by 1.0   or   to 2.0 overall"),
    ),
    "row": (
        (("of",), "of hole"),
        (("count",), "count 4"),
        (("pitch", "over"), "pitch 12.0   or   over 84.0"),
    ),
    "ring": ((("of",), "of hole"), (("count",), "count 6"), (("about",), "about hub")),
    "grid": ((("of",), "of hole"), (("count",), "count 3, 2"), (("pitch",), "pitch 12.0, 10.0")),
    "mirror": ((("of",), "of tab"), (("about",), "about middle")),
    **{kind: own.needs for kind, own in _OWN.items()},
}

# kind -> groups of facts that say the same thing in different ways: at most one of each group.
EXCLUDES: dict[str, tuple[tuple[str, ...], ...]] = {
    "bore": (
        ("drill", "across", "same as", "hex", "square"),
        FIT_WORDS,
        ("counterbore", "countersink"),
        TOOTHED,
        *_UNTHREADED,
    ),
    "slot": (
        ("drill", "wide", "same as"),
        FIT_WORDS,
        ("along", "square to", "level", "upright", "turned", "ends"),
    ),
    "peg": (("across", "same as", "hex", "square"), FIT_WORDS, TOOTHED, *_UNTHREADED),
    "plate": (
        ("thick", "taper"),
        ("outline", "belt", "chain", "merge"),
        ("grow", "shrink"),
        ("raised", "flush with"),
    ),
    "blank": (("grow", "shrink"),),
    "arc": (("rise", "radius"),),
    "mark": (("says", "arrow"), ("raised", "sunk")),
    "rib": (("between", "along"),),
    "plane": (("stands on", "raised", "dropped", "square to", "leans"),),
    "thicken": (("along", "collar", "inside"), ("by", "to")),
    "relieve": (("along", "collar", "inside"), ("by", "to")),
    "round": (("across", "chord", "same as"), ("across", "rise", "same as")),
    "row": (("along", "level", "upright", "angle"), ("pitch", "over")),
    "line": (("level", "upright", "angle"),),
    **{kind: own.excludes for kind, own in _OWN.items() if own.excludes},
}

# The sizes of a block (and of what is cut or measured like one) run across, up and towards the reader in this
# order.
BOX_WORDS = ("long", "wide", "high", "thick")
# kind -> how many of these sizes it must have (a block may say `reaches` for one of them).
BOX_SIZES = {"block": (3, "three"), "notch": (2, "two"), "rectangle": (2, "two")}
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

# (kind or "", fact word, slot) -> what the slot may speak of: kinds, and "flat", "side", "copy" for parts of
# one.
SPEAKS_OF: dict[tuple[str, str], frozenset[str]] = {
    ("taper", "here"): CENTRED | {"copy"},
    ("taper", "there"): CENTRED | {"copy"},
    ("leans", "here"): CENTRED | {"side"},
    ("leans", "there"): CENTRED | {"side"},
    ("leans", "thing"): frozenset({"flat", "side", "plane"}),
    ("around", "thing"): CENTRED | {"copy"},
    ("same as", "thing"): frozenset({"round", "bore", "slot", "peg", "neighbour"}),
    ("outline", "stops"): frozenset({"point", "round", "line", "arc", "turning", "peg", "bore", "copy"}),
    ("path", "stops"): frozenset({"point", "round", "bore", "copy"}),
    ("belt", "things"): ROUNDS | {"point", "copy"},
    ("chain", "things"): ROUNDS | {"point", "copy"},
    ("merge", "things"): frozenset({"round", "rectangle", "web", "copy"}),
    ("joins", "first"): CENTRED | {"copy"},
    ("joins", "second"): CENTRED | {"copy"},
    ("ends", "first"): CENTRED | {"copy"},
    ("ends", "second"): CENTRED | {"copy"},
    ("touches", "first"): ROUNDS | {"copy"},
    ("touches", "second"): ROUNDS | {"copy"},
    ("parallel to", "thing"): frozenset({"line", "side", "flat"}),
    ("square to", "thing"): frozenset({"line", "side", "flat"}),
    ("between", "first"): frozenset({"side", "flat", "plane"}),
    ("between", "second"): frozenset({"side", "flat", "plane"}),
    ("flush with", "thing"): frozenset({"side", "flat", "plane", "line"}),
    ("against", "thing"): frozenset({"side", "flat", "line"}),
    ("reach", "thing"): frozenset({"side", "flat"}),
    ("through", "things"): BODIES,
    ("rack", "thing"): frozenset({"gear", "neighbour"}),
    ("collar", "thing"): CENTRED | {"copy"},
    ("inside", "thing"): frozenset({"round", "rectangle", "web"}),
    ("trim", "thing"): frozenset({"plane", "flat", "side"}),
    **{slot: kinds for own in _OWN.values() for slot, kinds in own.speaks_of.items()},
}
