"""The kind `plate`."""
