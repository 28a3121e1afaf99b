"""What comes out of this room: files as bytes - 3MF, STL, the report - and their safe way onto the disk.

One file per format; nothing is decided about the part here.
"""

from .report import report_json, report_text
from .safe_write import write_whole
from .stl import stl_bytes
from .threemf import threemf_bytes
from .types import Feature, PartReport

__all__ = ["Feature", "PartReport", "report_json", "report_text", "stl_bytes", "threemf_bytes", "write_whole"]
