"""The kind `rib`."""
