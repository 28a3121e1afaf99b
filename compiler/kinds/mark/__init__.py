"""The kind `mark`."""
