"""What people call things before they know this language's word for them, and the word to hand them."""

from __future__ import annotations

from collections.abc import Mapping

from .shapes import Kind, Optional, Shape, Small, group

_KINDS: dict[str, tuple[str, ...]] = {
    "hole": ("bore", "slot", "notch"),
    "pocket": ("notch", "bore"),
    "recess": ("notch", "bore"),
    "window": ("notch", "slot"),
    "opening": ("notch", "slot", "bore"),
    "cut": ("notch", "slot"),
    "cutout": ("notch", "slot"),
    "screw": ("bore",),
    "box": ("block",),
    "brick": ("block",),
    "bar": ("block", "strip"),
    "wall": ("block", "rib", "rim"),
    "sheet": ("plate",),
    "disc": ("turning",),
    "disk": ("turning",),
    "cylinder": ("turning", "peg"),
    "cone": ("turning",),
    "tube": ("turning",),
    "pipe": ("turning",),
    "sleeve": ("turning",),
    "bush": ("turning",),
    "rod": ("peg", "turning"),
    "pin": ("peg",),
    "post": ("peg", "block"),
    "stud": ("peg",),
    "boss": ("peg",),
    "gusset": ("rib",),
    "cog": ("gear",),
    "wheel": ("turning", "gear"),
    "text": ("mark",),
    "letters": ("mark",),
    "label": ("mark",),
    "arrow": ("mark",),
    "snap": ("arm",),
    "clip": ("arm",),
    "hook": ("arm", "strip"),
    "circle": ("round",),
    "part": ("plate", "block", "turning"),
    "mesh": ("blank",),
    "scan": ("blank",),
    "copy": ("row", "ring", "grid", "mirror"),
    "mirrored": ("mirror",),
}
_FACTS: dict[str, tuple[str, ...]] = {
    "across": ("wide",),
    "diameter": ("across", "wide"),
    "diam": ("across", "wide"),
    "dia": ("across", "wide"),
    "size": ("across",),
    "length": ("long",),
    "width": ("wide",),
    "breadth": ("wide",),
    "height": ("high",),
    "tall": ("high", "long"),
    "thickness": ("thick",),
    "depth": ("deep",),
    "centred": ("midway",),
    "centered": ("midway",),
    "centre": ("midway", "around"),
    "center": ("midway", "around"),
    "middle": ("midway",),
    "place": ("at", "from"),
    "position": ("at", "from"),
    "chamfer": ("bevel",),
    "rounded": ("round",),
    "text": ("says",),
    "spacing": ("pitch",),
    "every": ("pitch",),
    "step": ("pitch",),
    "number": ("count", "teeth"),
    "times": ("count",),
    "copies": ("count",),
    "rotated": ("turned",),
    "touches": ("against",),
    "touching": ("against",),
    "aligned": ("flush", "level"),
    "material": ("plastic",),
    "tolerance": ("readings",),
    "angle": ("turned",),
}
_TOO_MUCH: dict[str, str] = {
    "degrees": "an angle is in degrees as it stands: leave the word out",
    "=": "a fact needs no `=`: a blank does",
    "degree": "an angle is in degrees as it stands: leave the word out",
    "inch": "inches are written: 1/4 in",
    "deg": "an angle is in degrees as it stands: leave the word out",
    "inches": "inches are written: 1/4 in",
}

_ONE_THING = "with one thing it is:  on NAME   and   level"
_INSTEAD: dict[tuple[str, str], str] = {
    ("row", "pitch"): "read over all of them, from outer edge to outer edge:  over 44.9",
    ("line", "through"): _ONE_THING,
    ("line", "level"): _ONE_THING,
    (
        "block",
        "rack",
    ): "say one of `module`, `pitch` and `meshes`, not two: a wheel it meshes with tells the module",
    (
        "arm",
        "nose",
    ): "as the flat it stands on is seen from outside, with up (of its top and bottom: right) staying so",
}
_STUCK: dict[tuple[str, str], str] = {
    (
        "rack",
        "helix",
    ): "the teeth of a rack are cut straight across: make it and its wheel anew, both without `helix`",
}
_ELSEWHERE = {
    "other": (
        "`other hand` belongs to `recipe`: the whole is made the other way round",
        "one body in the other hand is a mirror:  mirror NAME   of it   about a line or flat",
    ),
}
MOST_LISTED = 12
_FIRST_KINDS = (
    "plate",
    "block",
    "strip",
    "turning",
    "peg",
    "bore",
    "slot",
    "notch",
    "point",
    "line",
    "round",
    "use",
)


def elsewhere(word: str) -> tuple[str, ...]:
    """Advice on a fact that is said in another place than where it is looked for."""
    return _ELSEWHERE.get(word, ())


def some_kinds(kinds: Mapping[str, Kind]) -> str:
    """The kinds of statement that most recipes have, and how many there are besides."""
    shown = [one for one in _FIRST_KINDS if one in kinds]
    return " ".join(shown) + f"; the reference has {len(kinds) - len(shown)} more"


def some_facts(kind: Kind) -> str:
    """The first words of a kind's facts, at most a dozen: its own first, which stand last in the table, then
    what all share.
    """
    shared = [first for shape in group("place") for first in shape.word.split()[:1]]
    words = sorted(reversed(kind.by_first), key=lambda word: word in shared)
    left = len(words) - MOST_LISTED
    return " ".join(sorted(words[:MOST_LISTED])) + (f"; the reference has {left} more" if left > 0 else "")


def instead(kind: str, word: str, stuck: str) -> tuple[str, ...]:
    """Advice on a fact that is often said otherwise than it can be; `stuck` is the word of the line that did
    not fit.
    """
    return tuple(
        some[key] for some, key in ((_INSTEAD, (kind, word)), (_STUCK, (word, stuck))) if key in some
    )


def kinds_for(word: str) -> tuple[str, ...]:
    """The kinds of statement that make what a word means."""
    return _KINDS.get(word.casefold(), ())


def fact_for(word: str) -> str:
    """The fact, of whichever kind, that says what a word means; empty when there is none."""
    return (*_FACTS.get(word.casefold(), ()), "")[0]


def facts_for(word: str, kind: Kind) -> tuple[str, ...]:
    """The facts of a kind, by their first words, that say what a word means; and what else there is to know
    of it.
    """
    if word.casefold() == "radius" and "across" in kind.by_first:
        return ("across",)
    return tuple(one for one in _FACTS.get(word.casefold(), ()) if one in kind.by_first)


def too_much(text: str) -> tuple[str, ...]:
    """Advice on a word or sign that a line can do without."""
    return (_TOO_MUCH[text],) if text in _TOO_MUCH else ()


def said_behind(word: str, kind: Kind) -> tuple[Shape, ...]:
    """Shapes of a kind's facts in which a word stands, but not first."""
    return tuple(shape for shape in kind.facts if _holds(shape.elements[1:], word))


def _holds(elements: tuple[object, ...], word: str) -> bool:
    return any(
        _holds(one.elements, word)
        if isinstance(one, Optional)
        else isinstance(one, Small) and word in one.words
        for one in elements
    )
