"""What comes out of this room: the finished parts that a recipe takes from other files.

A used recipe is compiled, a mesh file is read, before the recipe that speaks of it is understood."""

from .gathering import bring_in
from .store import Makers, Store
from .types import Imports

__all__ = ["Imports", "Makers", "Store", "bring_in"]
