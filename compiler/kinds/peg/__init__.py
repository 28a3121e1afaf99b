"""A peg: a round, flatted or six-sided pin that stands on a flat."""
