"""Textbook figures that several tests count with; lengths in mm."""

from __future__ import annotations

from math import acos, pi, sqrt


def disc(across: float) -> float:
    """Area of a disc by its diameter."""
    return pi * across**2 / 4.0


def frustum(first: float, second: float, high: float) -> float:
    """Volume between two diameters."""
    return pi * high / 12.0 * (first**2 + first * second + second**2)


def segment(radius: float, away: float) -> float:
    """Area of the piece of a disc beyond a chord that lies `away` from its middle."""
    return radius**2 * acos(away / radius) - away * sqrt(radius**2 - away**2)
