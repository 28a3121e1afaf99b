"""The kind `slot`."""
