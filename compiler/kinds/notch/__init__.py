"""A notch: a rectangular cut."""
