"""What a person lays on the bench: paper templates, drawings and inspection sheets, from one list of drawn
marks.

Makers (`template`, `drawing`, ...) put marks on sheets; writers (`svg`, `pdf`, `png`) turn sheets into bytes.
The libraries for it (reportlab, pillow, fonttools) load only when something is written."""

from .checks import checks
from .drawing import drawing_sheet
from .found import FoundWrong, read_found
from .inspection import inspection_bytes, inspection_json, verdicts
from .pdf import pdf_bytes
from .png import png_bytes
from .shaded import picture_bytes
from .svg import svg_bytes
from .template import template_bytes, template_sheets
from .types import Check, Gauge, Outcome, Verdict
from .views import Scene

__all__ = [
    "Check",
    "FoundWrong",
    "Gauge",
    "Outcome",
    "Scene",
    "Verdict",
    "checks",
    "drawing_bytes",
    "drawing_sheet",
    "inspection_bytes",
    "inspection_json",
    "picture_bytes",
    "read_found",
    "template_bytes",
    "template_sheets",
    "verdicts",
]


def drawing_bytes(scene: Scene, kind: str = "svg") -> bytes:
    """The dimensioned drawing as `svg`, `pdf` or `png`.  Raises ValueError for another kind."""
    sheet = drawing_sheet(scene)
    if kind == "svg":
        return svg_bytes(sheet, scene.model.card.title)
    if kind == "pdf":
        return pdf_bytes([sheet], scene.model.card.title)
    if kind == "png":
        return png_bytes(sheet)
    raise ValueError(f"a drawing is written as svg, pdf or png, not as {kind!r}")
