"""The kind `blank`."""
