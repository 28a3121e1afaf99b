"""What comes out of this room: the text of a recipe as clean numbered lines (`Source`), or why it can't be read."""

from .reading import read_file, read_text
from .types import Piece, Row, Source

__all__ = ["Piece", "Row", "Source", "read_file", "read_text"]
