"""The kind `use`."""
