"""The kind `fillet`."""
