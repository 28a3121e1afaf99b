"""Filament plastics: density for the mass, softening for the warning, one line of advice.

Sources.  Densities of PLA, ABS and PETG: Processes 2025, 13, 2733 (filament, in g/cm3).  All other densities,
all bands and all softening temperatures are from memory, and the bands say how far makers differ.  The same
paper's glass transition of PLA (137 C) is wrong, that of PETG (71 C) low; neither is used.  Softening is the
glass transition where there is a sharp one: a part under load gives way from there on."""

from __future__ import annotations

from msgspec import Struct

from .unknown import spelt_alike, unknown

_PAPER = "Processes 2025, 13, 2733"
_MEMORY = "from memory"


class Plastic(Struct, frozen=True):
    """One plastic: density and its band in g/cm3, source of the density, softening band in C, what it is good
    for.
    """

    name: str
    density: float
    band: tuple[float, float]
    source: str
    softens: tuple[float, float]
    advice: str
    aliases: tuple[str, ...] = ()


PLASTICS: dict[str, Plastic] = {
    made.name: made
    for made in (
        Plastic(
            "PLA",
            1.25,
            (1.23, 1.25),
            _PAPER,
            (55.0, 65.0),
            "stiff and easy; goes limp in a parked car and creeps under steady load",
            ("polylactide", "PLA+"),
        ),
        Plastic(
            "PETG",
            1.27,
            (1.26, 1.29),
            _PAPER,
            (75.0, 85.0),
            "tough, stands water and a warm kitchen; a good first choice for spares",
            ("PET-G",),
        ),
        Plastic(
            "ABS",
            1.04,
            (1.03, 1.06),
            _PAPER,
            (100.0, 107.0),
            "stands heat and knocks; wants a closed, warm printer; chalks in the sun",
            (),
        ),
        Plastic(
            "ASA",
            1.07,
            (1.05, 1.08),
            _MEMORY,
            (95.0, 105.0),
            "like ABS, and stands years of sun: the one for outdoors",
            (),
        ),
        Plastic(
            "nylon",
            1.08,
            (1.01, 1.14),
            _MEMORY,
            (45.0, 60.0),
            "tough and slippery: gears, hinges; print it dry; say PA6 or PA12 for a closer mass",
            ("PA", "polyamide"),
        ),
        Plastic(
            "PA6",
            1.14,
            (1.12, 1.14),
            _MEMORY,
            (45.0, 60.0),
            "toughest of the nylons and slippery; drinks water and swells: print it dry",
            ("nylon 6", "polyamide 6"),
        ),
        Plastic(
            "PA12",
            1.01,
            (1.01, 1.03),
            _MEMORY,
            (45.0, 60.0),
            "a nylon that drinks little water and keeps its size: gears, clips, bearings",
            ("nylon 12", "polyamide 12"),
        ),
        Plastic(
            "TPU",
            1.21,
            (1.20, 1.24),
            _MEMORY,
            (70.0, 100.0),
            "rubbery: feet, grips, seals, belts; sizes give, so fits need not be close",
            ("TPU 95A", "TPU 85A"),
        ),
        Plastic(
            "PP",
            0.90,
            (0.89, 0.92),
            _MEMORY,
            (60.0, 100.0),
            "bends a thousand times, stands most cleaners; hard to print flat, and hard to glue",
            ("polypropylene",),
        ),
        Plastic(
            "PC",
            1.20,
            (1.18, 1.22),
            _MEMORY,
            (110.0, 147.0),
            "strongest in the heat (blends soften from about 110 C); prints hot in a closed printer",
            ("polycarbonate",),
        ),
    )
}


def _plain(name: str) -> str:
    """The name without what people spell differently: capitals, blanks, hyphens."""
    return "".join(mark for mark in name.casefold() if mark not in " -_\t")


_BY_NAME = {_plain(name): made for made in PLASTICS.values() for name in (made.name, *made.aliases)}


def plastic(name: str) -> Plastic:
    """The plastic of that name or alias; capitals, blanks and hyphens don't count.

    Raises Trouble('unknown-plastic') with the names that may be meant.
    """
    found = _BY_NAME.get(_plain(name))
    if found is None:
        meant = [_BY_NAME[word].name for word in spelt_alike(_plain(name), _BY_NAME)]
        raise unknown("plastic", name, PLASTICS, list(dict.fromkeys(meant)))
    return found
