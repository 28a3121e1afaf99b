"""The kind `mirror`."""
