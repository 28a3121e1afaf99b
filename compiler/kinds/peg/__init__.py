"""The kind `peg`."""
