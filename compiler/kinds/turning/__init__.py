"""A turning: stations along an axis, with what is worked into them."""
