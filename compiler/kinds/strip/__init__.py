"""A strip: one thickness bent along a path."""
