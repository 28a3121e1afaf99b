"""What comes out of this room: the text of a recipe as clean numbered lines (`Source`), or why it can't be
read.
"""

from .finding import Shelf, find_file, shelf_of
from .reading import read_file, read_text
from .types import Piece, Row, Source

__all__ = ["Piece", "Row", "Shelf", "Source", "find_file", "read_file", "read_text", "shelf_of"]
