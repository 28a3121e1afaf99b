"""How much wider or narrower a hole is than the pin in it, for the words of the language.

Source: common practice, no source.  These are sizes as intended; what a printer makes of them is its own
affair and is put right elsewhere."""

from __future__ import annotations

from msgspec import Struct


class FitAllowance(Struct, frozen=True):
    """A word for how a hole sits on a pin: hole = pin * (1 + share) + wider, diameters in mm."""

    word: str
    wider: float
    share: float = 0.0

    def hole_for(self, pin: float) -> float:
        """Diameter in mm of the hole for a pin of that diameter."""
        return pin * (1.0 + self.share) + self.wider

    def pin_for(self, hole: float) -> float:
        """Diameter in mm of the pin for a hole of that diameter."""
        return (hole - self.wider) / (1.0 + self.share)


FITS: dict[str, FitAllowance] = {  # common practice, no source
    fit.word: fit
    for fit in (
        FitAllowance("turns on", 0.20),
        FitAllowance("slides on", 0.30),
        FitAllowance("pushes on", 0.10),
        FitAllowance("press on", -0.10),
        FitAllowance("stretches on", 0.0, share=-0.02),
    )
}
