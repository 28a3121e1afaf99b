"""The kind `bore`."""
