"""The kind `grid`."""
