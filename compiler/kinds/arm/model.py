"""A snap arm as it will be made."""

from __future__ import annotations

from typing import ClassVar

from ...diagnostics.types import Trouble
from ...model.builder import Builder, optional_size, said_of
from ...model.taking import Facts
from ...model.types import Body, Said, Size
from .sizes import ArmSizes as Sizes
from .sizes import arm_of

_WORDS = ("long", "wide", "thick", "tip", "nose", "lead", "return", "fillet")


class Arm(Body, frozen=True, kw_only=True):
    """A snap arm: its sizes as made, those that were told in their order, the line of its foot's fillet."""

    sizes: Sizes
    told: tuple[tuple[str, Size], ...]
    fillet: Said | None

    straight_sided: ClassVar[bool] = True

    @property
    def stood_on(self) -> bool:
        """An arm has no flat to stand on."""
        return False

    @property
    def enters(self) -> bool:
        """An arm snaps through an opening."""
        return True


def make(builder: Builder, facts: Facts) -> Arm:
    """The arm.  Raises Trouble: 'not-placed', 'bad-size'."""
    fields = builder.body(facts)
    if fields["spot"] is None:
        raise Trouble("not-placed", f"`{facts.name}` is not placed", (facts.name,))
    told = []
    for word in _WORDS:
        claim = facts.one(word)
        key = next((key for key in ("size", "angle", "number") if claim is not None and claim.get(key)), "")
        if (size := optional_size(claim, key)) is not None:
            told.append((word, size))
    fillet = facts.one("fillet")
    return Arm(
        **fields,
        sizes=arm_of(facts.entry),
        told=tuple(told),
        fillet=None if fillet is None else said_of(fillet),
    )
