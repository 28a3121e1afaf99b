"""Threads of turnings, pegs and bores: their form, their ridges, and the solids that carry them."""
