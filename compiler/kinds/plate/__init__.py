"""A plate: an outline with a thickness."""
