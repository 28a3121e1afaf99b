"""The kind `relieve`."""
