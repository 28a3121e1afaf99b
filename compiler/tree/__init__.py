"""What comes out of this room: the syntax tree of a recipe, and the tree back to text.  The only importer of
lark.
"""

from .parsing import Written, parse_rows
from .types import Tree
from .writing import expression_text, tidy_rows, tree_text

__all__ = ["Tree", "Written", "expression_text", "parse_rows", "tidy_rows", "tree_text"]
