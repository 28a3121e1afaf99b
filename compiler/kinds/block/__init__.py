"""A block: a box that stands on its plane, its sides named."""
