"""The track of a channel on a face: a rectangle along some direction, and who stands in it."""

import math
from dataclasses import dataclass, replace

from generator.geometry.channels import Channel
from generator.geometry.outlines import Outline
from generator.geometry.tolerance import PARALLEL_SINE, SAME_PLANE_MM, SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.problems import Place

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """A channel in a face of a piece, in the piece's frame.

    Attributes:
        along: The direction u it runs in, of length 1, to the right or straight up.
        spans: From and to along u, then along v, which is u turned left by a right angle.
        opens: Whether it runs out: at the low and the high end of u, at the low and the high side
            of v. What runs out reaches past the wood.
        in_b: Whether it is cut into face B.
        mates: Names of the pieces that stand in it.
    """

    along: Vec2
    spans: tuple[Span, Span]
    opens: tuple[bool, bool, bool, bool] = (False, False, False, False)
    in_b: bool
    depth_mm: float
    mates: tuple[str, ...]
    place: Place

    @property
    def width_mm(self) -> float:
        """Across the channel."""
        return self.spans[1][1] - self.spans[1][0]

    @property
    def across(self) -> Vec2:
        """The direction v."""
        return (-self.along[1], self.along[0])

    @property
    def middle(self) -> Vec2:
        """The middle of the rectangle."""
        return self.point(sum(self.spans[0]) / 2, sum(self.spans[1]) / 2)

    @property
    def outline(self) -> Outline:
        """The rectangle, counter-clockwise: low v, high u, high v, low u."""
        (low, high), (near, far) = self.spans
        corners = ((low, near), (high, near), (high, far), (low, far))
        return Outline(tuple(self.point(u, v) for u, v in corners))

    @property
    def channel(self) -> Channel:
        """What is taken off the slab."""
        return Channel(self.outline, self.in_b, self.depth_mm)

    def point(self, u: float, v: float) -> Vec2:
        """Return the point at a place along and across."""
        x, y = self.along
        return (x * u - y * v, y * u + x * v)

    def measured(self, point: Vec2) -> Vec2:
        """Return how far along and across a point lies."""
        x, y = self.along
        return (x * point[0] + y * point[1], x * point[1] - y * point[0])


def find_direction(normal: Vec2) -> Vec2:
    """Return the direction of a channel whose sides look along a normal: right, or straight up."""
    x, y = -normal[1], normal[0]
    length = math.hypot(x, y)
    if x < -PARALLEL_SINE or (abs(x) <= PARALLEL_SINE and y < 0):
        length = -length
    return (x / length, y / length)


def unite_tracks(tracks: list[Track]) -> tuple[Track, ...]:
    """Return tracks with those that follow each other in one line made one."""
    united: list[Track] = []
    for track in tracks:
        whole = track
        for other in list(united):
            if _is_one_line(whole, other):
                united.remove(other)
                whole = _joined(other, whole)
        united.append(whole)
    return tuple(united)


def _is_one_line(one: Track, other: Track) -> bool:
    if one.in_b != other.in_b or abs(one.depth_mm - other.depth_mm) > SAME_POINT_MM:
        return False
    if math.dist(one.along, other.along) > PARALLEL_SINE:
        return False
    if any(abs(a - b) > SAME_PLANE_MM for a, b in zip(one.spans[1], other.spans[1], strict=True)):
        return False
    (low, high), (first, last) = one.spans[0], other.spans[0]
    return max(low, first) <= min(high, last) + SAME_PLANE_MM


def _joined(one: Track, other: Track) -> Track:
    (low, high), (first, last) = one.spans[0], other.spans[0]
    return replace(
        one,
        spans=((min(low, first), max(high, last)), one.spans[1]),
        opens=(
            one.opens[0] or other.opens[0],
            one.opens[1] or other.opens[1],
            one.opens[2],
            one.opens[3],
        ),
        mates=tuple(dict.fromkeys((*one.mates, *other.mates))),
    )
