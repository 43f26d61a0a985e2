"""Path data in hundredths of a millimetre, y down, as short as it goes.

Steps are relative, a letter that repeats is left out, and a number that starts with its sign or,
after a number with a point, with its own point needs no space: SVG 1.1, section 8.3.9.
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from generator.geometry.outlines import arc_of
from generator.geometry.vectors import Vec2

Point = tuple[int, int]

NUMBERS_KEPT: Final = 1 << 15
"""So many numbers are remembered as text: most steps of most drawings are no longer than a page."""


@lru_cache(maxsize=NUMBERS_KEPT)
def format_number(hundredths: int) -> str:
    """Return a number of hundredths with at most two decimals: ``1.5``, ``.25``, ``-3``."""
    whole, rest = divmod(abs(hundredths), 100)
    sign = "-" if hundredths < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole or ''}.{rest:02d}".rstrip("0")


def format_mm(value: float) -> str:
    """Return millimetres or degrees with at most two decimals."""
    return format_number(round(value * 100))


class PathPen:
    """Writes points into one string of path data."""

    def __init__(self) -> None:
        self._parts: list[str] = []
        self._letter = ""
        self._at: Point | None = None

    @property
    def data(self) -> str:
        """All that was written so far."""
        return "".join(self._parts)

    def polyline(self, places: Sequence[Point], closed: bool) -> None:
        """Add a straight line through places."""
        start = at_x, at_y = places[0]
        self._move(start)
        parts, letter = self._parts, ""
        for x, y in places:
            if x != at_x or y != at_y:
                own, first, again = _line(x - at_x, y - at_y)
                parts.append(again if own == letter else first)
                letter, at_x, at_y = own, x, y
        self._at = (at_x, at_y)
        if closed:
            self._close(start)

    def curve(
        self, places: Sequence[Point], points: Sequence[Vec2], bulges: Sequence[float], closed: bool
    ) -> None:
        """Add a line through places with arcs where there are bulges; ``points`` are unrounded."""
        self._move(places[0])
        letter = ""
        for index, bulge in enumerate(bulges[: len(points) if closed else len(points) - 1]):
            following = (index + 1) % len(points)
            start, end = places[index], places[following]
            dx, dy = end[0] - start[0], end[1] - start[1]
            if bulge:
                radius_mm = arc_of(points[index], points[following], bulge)[1]
                own, first, again = _arc(dx, dy, radius_mm, bulge)
            elif following and (dx or dy):
                own, first, again = _line(dx, dy)
            else:
                continue
            self._parts.append(again if own == letter else first)
            letter, self._at = own, end
        if closed:
            self._close(places[0])

    def _move(self, to: Point) -> None:
        """Lift the pen; more pairs after a move are lines, which seldom would spare a letter."""
        x, y = to
        short = "M" + _join(x, y)
        if self._at is not None:
            at_x, at_y = self._at
            step = "m" + _join(x - at_x, y - at_y)
            short = step if len(step) < len(short) else short
        self._parts.append(short)
        self._at = to

    def _close(self, start: Point) -> None:
        self._parts.append("z")
        self._at = start


@lru_cache(maxsize=NUMBERS_KEPT)
def _line(dx: int, dy: int) -> tuple[str, str, str]:
    """Return the letter of a step, the step with its letter, and the step after one of its kind."""
    if dx and dy:
        letter, numbers = "l", _join(dx, dy)
    elif dx:
        letter, numbers = "h", format_number(dx)
    else:
        letter, numbers = "v", format_number(dy)
    return (letter, letter + numbers, numbers if numbers[0] == "-" else " " + numbers)


def _arc(dx: int, dy: int, radius_mm: float, bulge: float) -> tuple[str, str, str]:
    radius = round(radius_mm * 100)
    large = "1" if abs(bulge) > 1 else "0"
    sweep = "0" if bulge > 0 else "1"
    numbers = f"{_join(radius, radius)} 0 {large} {sweep} {_join(dx, dy)}"
    return ("a", "a" + numbers, " " + numbers)


def _join(first: int, second: int) -> str:
    one, other = format_number(first), format_number(second)
    if second < 0 or (other[0] == "." and "." in one):
        return one + other
    return one + " " + other
