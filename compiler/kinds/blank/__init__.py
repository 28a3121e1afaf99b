"""A mesh that is there already, as stock."""
