"""A mark: a text or an arrow on a flat."""
