"""The kind `thicken`."""
