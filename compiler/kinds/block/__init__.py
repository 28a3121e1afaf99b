"""The kind `block`."""
