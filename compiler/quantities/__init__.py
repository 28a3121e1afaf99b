"""What comes out of this room: numbers with a unit, a give-or-take and a standing; and the tables of the
trade.
"""

from .numbers import Quantity, Standing, Unit, combine, parse_number

__all__ = ["Quantity", "Standing", "Unit", "combine", "parse_number"]
