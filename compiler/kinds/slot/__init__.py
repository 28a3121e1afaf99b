"""A slot: a hole that is longer than wide."""
