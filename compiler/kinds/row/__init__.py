"""The kind `row`."""
