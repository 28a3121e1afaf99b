"""The kind `turning`."""
