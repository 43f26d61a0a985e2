"""How numbers are rounded in files for programs; never a negative zero."""

from collections.abc import Iterable

from generator.geometry.outlines import Outline


def mm(value: float) -> float:
    """Return a length to 0.001 mm."""
    return round(value, 3) + 0.0


def deg(value: float) -> float:
    """Return an angle to 0.0001 degrees."""
    return round(value, 4) + 0.0


def fine(value: float) -> float:
    """Return a coordinate or part of a direction to six decimals."""
    return round(value, 6) + 0.0


def vector(values: Iterable[float]) -> list[float]:
    """Return coordinates or a direction to six decimals."""
    return [fine(value) for value in values]


def points(outline: Outline) -> list[list[float]]:
    """Return the corners of an outline to six decimals."""
    return [vector(point) for point in outline.points]
