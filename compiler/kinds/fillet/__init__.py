"""A fillet: the hollow in a corner of two flats."""
