"""Vectors in space as plain tuples: add, scale, dot, cross, unit. Any right-handed frame, millimetres."""

from math import sqrt

Vector = tuple[float, float, float]


def add(a: Vector, b: Vector) -> Vector:
    """a + b."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def subtract(a: Vector, b: Vector) -> Vector:
    """a - b."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scale(a: Vector, factor: float) -> Vector:
    """a stretched by factor."""
    return (a[0] * factor, a[1] * factor, a[2] * factor)


def dot(a: Vector, b: Vector) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """Vector product, right-handed."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def length(a: Vector) -> float:
    """Length of a."""
    return sqrt(dot(a, a))


def unit(a: Vector) -> Vector:
    """a at length 1. Raises ZeroDivisionError for the zero vector."""
    return scale(a, 1 / length(a))
