"""What comes out of this room: the syntax tree of a recipe, and the tree back to text.  The only importer of
lark.
"""

from .parsing import Written, parse_rows
from .types import Tree
from .writing import tidy_rows, tree_text

__all__ = ["Tree", "Written", "parse_rows", "tidy_rows", "tree_text"]
