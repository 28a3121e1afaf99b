"""Copies at even angles round a middle."""
