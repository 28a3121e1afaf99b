"""The kind `strip`."""
