"""Face labels: which statement, and which fact or side of it, every edge and later every triangle belongs
to.
"""

from __future__ import annotations

from msgspec import Struct, field


class Marks(Struct):
    """Small integers for (statement, detail) pairs, given out in the order they are first asked for.

    The detail names a side (`front`, `left`), a part of the statement (`bore`, `bevel`), or the thing that an
    outline runs round."""

    faces: list[tuple[str, str]] = field(default_factory=list)
    _numbers: dict[tuple[str, str], int] = field(default_factory=dict)

    def of(self, name: str, detail: str = "") -> int:
        """The label of a statement's face."""
        pair = (name, detail)
        if pair not in self._numbers:
            self._numbers[pair] = len(self.faces)
            self.faces.append(pair)
        return self._numbers[pair]
