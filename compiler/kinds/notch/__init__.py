"""The kind `notch`."""
