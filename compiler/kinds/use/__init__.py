"""The finished part of another recipe."""
