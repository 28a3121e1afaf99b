"""Copies at even steps along a way."""
