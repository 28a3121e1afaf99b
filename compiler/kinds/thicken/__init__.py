"""A zone that thickens a body."""
