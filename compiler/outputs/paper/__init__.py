"""What a person lays on the bench: paper templates, drawings and inspection sheets, from one list of drawn marks.

Makers (`template`, ...) put marks on sheets; writers (`svg`, `pdf`, `png`) turn sheets into bytes.  The libraries for
it (reportlab, pillow, fonttools) load only when something is written.
"""

from .template import template_bytes, template_sheets
from .views import Scene

__all__ = ["Scene", "template_bytes", "template_sheets"]
