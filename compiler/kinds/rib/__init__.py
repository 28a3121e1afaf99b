"""A rib: a wall along things, or a gusset in a corner."""
