"""Path data in hundredths of a millimetre, y down, as short as it goes."""

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


class PathPen:
    """Writes points into one string of path data; knows the height of the paper."""

    def __init__(self, height_mm: float) -> None:
        self._height_mm = height_mm
        self._parts: list[str] = []
        self._at: Point = (0, 0)

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
        start = self._at = self.point(points[0])
        self._parts.append("M" + _join(start))
        curved = any(bulges)
        for index, end in enumerate(ends):
            bulge = bulges[index] if curved else 0.0
            last = closed and index == len(ends) - 1
            if bulge:
                self._arc(points[index], end, bulge)
            elif not last:
                self._line(self.point(end))
        if closed:
            self._parts.append("z")
            self._at = start

    def _line(self, end: Point) -> None:
        dx, dy = end[0] - self._at[0], end[1] - self._at[1]
        if not dx and not dy:
            return
        if not dy:
            self._parts.append("h" + format_number(dx))
        elif not dx:
            self._parts.append("v" + format_number(dy))
        else:
            self._parts.append("l" + _join((dx, dy)))
        self._at = end

    def _arc(self, start: Vec2, end: Vec2, bulge: float) -> None:
        radius = format_number(round(arc_of(start, end, bulge)[1] * 100))
        large = "1" if abs(bulge) > 1 else "0"
        sweep = "0" if bulge > 0 else "1"
        goal = self.point(end)
        step = _join((goal[0] - self._at[0], goal[1] - self._at[1]))
        self._parts.append(f"a{radius} {radius} 0 {large} {sweep} {step}")
        self._at = goal


def _join(pair: Point) -> str:
    second = format_number(pair[1])
    return format_number(pair[0]) + ("" if second.startswith("-") else " ") + second
