"""Path data in hundredths of a millimetre, y down, as short as it goes.

Steps are relative, a letter that repeats is left out, and a number that starts with its sign or,
after a number with a point, with its own point needs no space: SVG 1.1, section 8.3.9.
"""

from generator.geometry.outlines import arc_of
from generator.geometry.vectors import Vec2

Point = tuple[int, int]


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

    def polyline(
        self, points: tuple[Vec2, ...], closed: bool, bulges: tuple[float, ...] = ()
    ) -> None:
        """Add a line through points, with arcs where there are bulges."""
        ends = points[1:] + points[:1] if closed else points[1:]
        start = self.point(points[0])
        self._move(start)
        curved = any(bulges)
        for index, end in enumerate(ends):
            bulge = bulges[index] if curved else 0.0
            last = closed and index == len(ends) - 1
            if bulge:
                self._arc(points[index], end, bulge)
            elif not last:
                self._line(self.point(end))
        if closed:
            self._add("z", "")
            self._at = start

    def places(self, points: tuple[Vec2, ...]) -> None:
        """Add every point, for what is drawn at the corners of a path."""
        self._move(self.point(points[0]))
        for point in points[1:]:
            self._line(self.point(point))

    def _move(self, to: Point) -> None:
        short = "M" + _join(*to)
        if self._at is not None:
            step = "m" + _join(to[0] - self._at[0], to[1] - self._at[1])
            short = step if len(step) < len(short) else short
        self._parts.append(short)
        # More pairs after a move are lines, which would spare a letter; it seldom happens.
        self._letter = ""
        self._at = to

    def _line(self, end: Point) -> None:
        dx, dy = self._step(end)
        if not dx and not dy:
            return
        if not dy:
            self._add("h", format_number(dx))
        elif not dx:
            self._add("v", format_number(dy))
        else:
            self._add("l", _join(dx, dy))
        self._at = end

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
            self._parts.append(letter)
        elif numbers and numbers[0] != "-":
            self._parts.append(" ")
        self._parts.append(numbers)
        self._letter = letter


def _join(first: int, second: int) -> str:
    one, other = format_number(first), format_number(second)
    needs_space = other[0] != "-" and not (other[0] == "." and "." in one)
    return one + (" " if needs_space else "") + other
