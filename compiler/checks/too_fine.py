"""Can the part be written as an STL file, which keeps its corners as 32-bit floats?"""

from __future__ import annotations

from ..diagnostics.types import Diagnostic, Severity, Trouble
from ..mesh.finish import require_single_precision
from ..mesh.types import Part


def too_fine_for_stl(part: Part) -> list[Diagnostic]:
    """A warning where corners of the part would fall together in an STL file; a 3MF file keeps them apart."""
    try:
        require_single_precision(part.mesh)
    except Trouble as trouble:
        return [Diagnostic(trouble.code, Severity.WARNING, trouble.says, advice=trouble.advice)]
    return []
