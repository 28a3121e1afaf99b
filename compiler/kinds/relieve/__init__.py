"""A zone that takes material off a body."""
