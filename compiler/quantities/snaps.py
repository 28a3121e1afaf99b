"""How far a snap joint is stretched when it goes together, and what its plastic takes.

Formulas.  A cantilever of length l, thickness h at the root, deflected by y at its end: the strain at the
root is 3 y h / (2 l^2) (a design guide of a plastics maker and four calculators, re-derived); where the
thickness tapers in a straight line the factor comes from the integral of x^2 / t(x)^3 (Euler and Bernoulli),
1.09 in place of 2/3 at half the thickness. A ring that goes over a bead is stretched by the change of its
diameter over the diameter (definition of hoop strain). Both leave aside that what it snaps into gives as
well, and that a sharp corner at the root strains more than the rest.

Allowances.  Polycarbonate 4 to 8 % (a plastics maker's guide); all others from memory, for moulded parts
assembled once; 0.6 of it for joints that are opened again and again (from memory).  For printed parts no
published allowance was found: the moulded one is the most, and half of it is taken where the arm bends across
its layers (own caution)."""

from __future__ import annotations

import math

from msgspec import Struct

AGAIN_AND_AGAIN = 0.6
ACROSS_LAYERS = 0.5
_ONCE = {
    "PLA": 0.02,
    "PETG": 0.03,
    "ABS": 0.025,
    "ASA": 0.025,
    "nylon": 0.04,
    "PA6": 0.04,
    "PA12": 0.04,
    "PC": 0.04,
    "PP": 0.04,
    "TPU": 0.15,
}
_LEAST = 0.02


class Allowed(Struct, frozen=True):
    """The strain (0.02 is 2 %) that a printed snap joint takes when assembled once, and again and again.
    Estimates.
    """

    once: float
    often: float


def allowed(plastic: str | None, across_layers: bool) -> Allowed:
    """What a plastic of our table takes (None: the most brittle of them), bent across its layers or along
    them.
    """
    once = _ONCE.get(plastic or "", _LEAST) * (ACROSS_LAYERS if across_layers else 1.0)
    return Allowed(once, AGAIN_AND_AGAIN * once)


def reach_factor(taper: float) -> float:
    """C in y = C strain l^2 / h for an arm whose thickness runs straight from h at the root to `taper` * h at
    its end.

    2/3 without a taper; `strain` is that at the root.  0 < taper <= 1."""
    if not 0.0 < taper <= 1.0:
        raise ValueError("an arm tapers to between nothing and all of its thickness")
    lost = 1.0 - taper
    if lost < 1e-3:
        return 2.0 / 3.0 * (1.0 + 0.75 * lost)
    return 2.0 * (-math.log(taper) + 2.0 * taper - 1.5 - 0.5 * taper * taper) / lost**3


def peak_over_root(taper: float) -> float:
    """The greatest strain along such an arm over that at its root: below half the thickness it moves up the
    arm.
    """
    return 1.0 if taper >= 0.5 else 1.0 / (4.0 * taper * (1.0 - taper))


def arm_strain(undercut: float, length: float, thick: float, tip: float | None = None) -> float:
    """Greatest strain of an arm bent by its undercut: lengths in mm; `tip` is its thickness at the end (as
    the root).
    """
    taper = 1.0 if tip is None else tip / thick
    return undercut * thick / (reach_factor(taper) * length * length) * peak_over_root(taper)


def ring_strain(bead: float, mouth: float) -> float:
    """Strain of the ring that goes over a bead (or holds it): diameters in mm, either way round."""
    return abs(bead - mouth) / min(bead, mouth)


def length_for(undercut: float, thick: float, strain: float, tip: float | None = None) -> float:
    """The length (mm) at which an arm is strained by no more than `strain`."""
    return math.sqrt(arm_strain(undercut, 1.0, thick, tip) / strain)


def thickness_for(
    undercut: float, length: float, strain: float, tip: float | None = None, thick: float = 1.0
) -> float:
    """The thickness (mm) at the root at which an arm of this shape is strained by no more than `strain`."""
    taper = None if tip is None else tip / thick
    return strain / arm_strain(undercut, length, 1.0, taper)
