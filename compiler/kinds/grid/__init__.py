"""Copies at even steps across and up."""
