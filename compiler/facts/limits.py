"""The limits that a named number states (`let wide = 20 from 5 to 60`): what it is set to must lie within
them.
"""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity
from ..language.items import Reading
from ..tree.types import Statement
from .sizes import Sizes
from .sums import Unclear

_ROUNDING = 1e-9


def within_limits(sizes: Sizes, statement: Statement) -> bool:
    """True where a `let` that was worked out lies within the limits it states; else a message is kept."""
    ends = [statement.head.get(key) for key in ("least", "most")]
    if not all(isinstance(one, Reading) for one in ends):
        return True
    try:
        least, most = (sizes.value(one.counts).value for one in ends if isinstance(one, Reading))
        value = sizes.named_number(statement).value
    except Unclear:
        return False
    if least - _ROUNDING <= value <= most + _ROUNDING:
        return True
    said = f"`{statement.name}` is {value:g}, and its limits are {least:g} to {most:g}"
    advice = ("give it another number, or check the sizes that its limits are worked out from",)
    sizes.names.found.append(Diagnostic("out-of-limits", Severity.ERROR, said, statement.span, advice=advice))
    return False
