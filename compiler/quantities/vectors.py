"""Points and directions as plain tuples, in the plane and in space, in mm; what little arithmetic they need.

Tuples, not arrays: most of what is placed is a handful of numbers, and numpy takes longer to start than they
take to add."""

from __future__ import annotations

XY = tuple[float, float]
Vector = tuple[float, float, float]


def dot(a: Vector, b: Vector) -> float:
    """The scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """The vector product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def along(start: Vector, *steps: tuple[Vector, float]) -> Vector:
    """start plus each direction times its length."""
    x, y, z = start
    for direction, length in steps:
        x, y, z = x + direction[0] * length, y + direction[1] * length, z + direction[2] * length
    return (x, y, z)


def clean(a: Vector) -> Vector:
    """A unit vector with entries within 1e-12 of -1, 0, 1 made exactly so (axis-parallel frames stay
    exact).
    """

    def snapped(value: float) -> float:
        whole = float(round(value))
        return whole + 0.0 if abs(value - whole) < 1e-12 else value

    return (snapped(a[0]), snapped(a[1]), snapped(a[2]))
