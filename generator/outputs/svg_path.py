"""Path data in hundredths of a millimetre, y down, as short as it goes.

Steps are relative, a letter that repeats is left out, and a number that starts with its sign or,
after a number with a point, with its own point needs no space: SVG 1.1, section 8.3.9.
"""

from collections.abc import Iterable
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
    """Writes points into one string of path data; knows the height of the paper."""

    def __init__(self, height_mm: float) -> None:
        self._height_mm = height_mm
        self._parts: list[str] = []
        self._letter = ""
        self._at: Point | None = None

    @property
    def data(self) -> str:
        """All that was written so far."""
        return "".join(self._parts)

    def point(self, at: Vec2) -> Point:
        """Return a point of the paper in hundredths, y down."""
        return (round(at[0] * 100), round((self._height_mm - at[1]) * 100))

    def points(self, line: Iterable[Vec2]) -> list[Point]:
        """Return points of the paper in hundredths, y down."""
        high = self._height_mm
        return [(round(x * 100), round((high - y) * 100)) for x, y in line]

    def polyline(
        self, points: tuple[Vec2, ...], closed: bool, bulges: tuple[float, ...] = ()
    ) -> None:
        """Add a line through points, with arcs where there are bulges."""
        places = self.points(points)
        self._move(places[0])
        if not any(bulges):
            self._lines(places[1:])
        else:
            for index, bulge in enumerate(bulges[: len(points) if closed else len(points) - 1]):
                following = (index + 1) % len(points)
                if bulge:
                    self._arc(points[index], points[following], bulge)
                elif following:
                    self._lines([places[following]])
        if closed:
            self._add("z", "")
            self._at = places[0]

    def places(self, points: tuple[Vec2, ...]) -> None:
        """Add every point, for what is drawn at the corners of a path."""
        first, *others = self.points(points)
        self._move(first)
        self._lines(others)

    def _move(self, to: Point) -> None:
        short = "M" + _join(*to)
        if self._at is not None:
            step = "m" + _join(to[0] - self._at[0], to[1] - self._at[1])
            short = step if len(step) < len(short) else short
        self._parts.append(short)
        # More pairs after a move are lines, which would spare a letter; it seldom happens.
        self._letter = ""
        self._at = to

    def _lines(self, ends: Iterable[Point]) -> None:
        at_x, at_y = self._at or (0, 0)
        for x, y in ends:
            dx, dy = x - at_x, y - at_y
            if dx and dy:
                letter, numbers = "l", _join(dx, dy)
            elif dx:
                letter, numbers = "h", format_number(dx)
            elif dy:
                letter, numbers = "v", format_number(dy)
            else:
                continue
            self._add(letter, numbers)
            at_x, at_y = x, y
        self._at = (at_x, at_y)

    def _arc(self, start: Vec2, end: Vec2, bulge: float) -> None:
        radius = round(arc_of(start, end, bulge)[1] * 100)
        large = "1" if abs(bulge) > 1 else "0"
        sweep = "0" if bulge > 0 else "1"
        goal = self.point(end)
        self._add("a", f"{_join(radius, radius)} 0 {large} {sweep} {_join(*self._step(goal))}")
        self._at = goal

    def _step(self, end: Point) -> Point:
        at = self._at or (0, 0)
        return (end[0] - at[0], end[1] - at[1])

    def _add(self, letter: str, numbers: str) -> None:
        if letter != self._letter:
            self._letter = letter
            numbers = letter + numbers
        elif numbers and numbers[0] != "-":
            numbers = " " + numbers
        self._parts.append(numbers)


def _join(first: int, second: int) -> str:
    one, other = format_number(first), format_number(second)
    if second < 0 or (other[0] == "." and "." in one):
        return one + other
    return f"{one} {other}"
