"""All that a recipe brings in from other files: finished parts of other recipes (`use`) and meshes (`blank`).

Each is compiled or read by the file `imports` of its kind, before the recipe that uses it is understood, and
enters as a finished part.  Nothing else crosses over: the used recipe sees none of our names, and of its own
only named numbers can be set from here."""

from __future__ import annotations

from collections.abc import Sequence

from ..diagnostics.types import Diagnostic, Trouble
from ..kinds import needed_file
from .store import Messages, Store
from .types import FinishedPart, ImportRequest, Imports

MOST_BROUGHT = 500
MOST_TRIANGLES = 2_000_000


def bring_in(requests: Sequence[ImportRequest], store: Store) -> tuple[Imports, tuple[Diagnostic, ...]]:
    """The finished parts that were asked for, and what could not be had (it is left out)."""
    messages = Messages()
    if len(requests) > MOST_BROUGHT:
        messages.say(
            "bad-count",
            f"the recipe brings in {len(requests)} bodies from files; {MOST_BROUGHT} are the most",
            requests[0].span,
            ("a row, ring or grid makes copies of one",),
        )
        return Imports(), tuple(messages.found)
    found: dict[str, FinishedPart] = {}
    triangles = 0
    for request in requests:
        own = needed_file(request.noun, "imports")
        try:
            part: FinishedPart | None = own.bring(request, store, messages)
        except Trouble as trouble:
            messages.say(trouble.code, trouble.says, request.file_span, trouble.advice)
            continue
        if part is None:
            continue
        triangles += len(part.mesh.triangles)
        if triangles > MOST_TRIANGLES:
            messages.say(
                "too-many-facets",
                f"what the recipe brings in has more than {MOST_TRIANGLES} facets",
                request.span,
                ("ask for coarser curves: --chord 0.05", "a row, ring or grid makes copies of one"),
            )
            continue
        found[request.name] = own.laid_down(part, request.lies_on, request.turned)
    parts = {name: one.part for name, one in found.items()}
    meshes = {name: one.mesh for name, one in found.items()}
    return Imports(parts, meshes), tuple(messages.found)
