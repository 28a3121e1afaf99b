"""A mirrored copy."""
