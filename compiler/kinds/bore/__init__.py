"""A bore: a hole by its size across."""
