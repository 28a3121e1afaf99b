"""Out of this room: what callipers, depth rod, drill and protractor find on the finished mesh, beside what
was said of it.

It shares nothing with what built the mesh: every value comes from triangles and the names they carry."""

from .measuring import measure_back
from .types import Taken

__all__ = ["Taken", "measure_back"]
