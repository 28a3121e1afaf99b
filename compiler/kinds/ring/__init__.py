"""The kind `ring`."""
