"""What a builder calls a channel and where it is measured from: dado, groove or rabbet.

A channel that runs along an edge of its part, open to that edge, is a rabbet; else one along the
grain is a groove, and any other a dado.
"""

import math

from shapely import union_all
from shapely.geometry import LineString, Point, Polygon

from generator.geometry.outlines import Outline
from generator.geometry.tolerance import SAME_ANGLE, SAME_PLANE_MM, SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.parts import FACE_A, FACE_B, Housing, HousingKind
from generator.parts.cut_piece import CutPiece
from generator.parts.sides import Side
from generator.parts.tracks import Track

FROM_FIRST = frozenset({"bottom", "left", "front"})
"""Where two edges would do, a builder measures from one of these."""


def describe_housing(piece: CutPiece, number: int, mates: tuple[str, ...]) -> Housing:
    """Return what is to be known of the channel with a number.

    Args:
        piece: The piece it is cut into.
        number: Of the channel among those of the slab.
        mates: Names of the pieces that stand in it, on all copies.
    """
    track = piece.tracks[number]
    kind = _kind(track)
    outline = _on_face(piece, track)
    edge = _edge_along(piece, track)
    corners = tuple(track.point(u, v) for u in track.spans[0] for v in track.spans[1])
    away = [_inset(piece, track, edge, point) for point in corners]
    low, high = max(0.0, min(away)), max(away)
    us, vs = zip(*(track.measured(point) for point in outline.points), strict=True)
    return Housing(
        kind=kind,
        side=FACE_B if track.in_b else FACE_A,
        channel=number,
        outline=outline,
        corners=_corners(track, outline),
        depth_mm=track.depth_mm,
        width_mm=max(vs) - min(vs),
        length_mm=max(us) - min(us),
        angle_deg=0.0 if kind == "groove" else _off_square_deg(track),
        edge=edge.name,
        from_mm=low,
        to_mm=low + max(vs) - min(vs) if _is_along(track, edge) else high,
        is_along=_is_along(track, edge),
        opens=tuple(_edge_at(piece, track, end).name for end in (0, 1) if track.opens[end]),
        stops=tuple(
            _stop(piece, track, end)
            for end in (0, 1)
            if not track.opens[end] and not _met(piece, track, end)
        ),
        mates=mates,
        place=track.place,
    )


def _kind(track: Track) -> HousingKind:
    if _is_rabbet(track):
        return "rabbet"
    return "groove" if abs(track.along[1]) < SAME_ANGLE else "dado"


def _is_rabbet(track: Track) -> bool:
    return track.opens[2] or track.opens[3]


def _off_square_deg(track: Track) -> float:
    """Return how far a channel is off square to the grain, or off the grain for a rabbet."""
    x, y = (abs(value) for value in track.along)
    if _is_rabbet(track):
        x, y = min(x, y), max(x, y)
    angle = math.degrees(math.atan2(x, y))
    return 0.0 if angle < math.degrees(SAME_ANGLE) else angle


def _face(piece: CutPiece, track: Track) -> Outline:
    return piece.slab.face_b if track.in_b else piece.slab.face_a


def _on_face(piece: CutPiece, track: Track) -> Outline:
    """Return the part of the channel that lies on the face, up to others it runs into."""
    ends = [end for end in (0, 1) if not track.opens[end]]
    others = union_all([o.outline.polygon() for end in ends for o in _met(piece, track, end)])
    shape = track.outline.polygon().difference(others)
    shared = _face(piece, track).polygon().intersection(shape).normalize()
    shapes = [s for s in getattr(shared, "geoms", [shared]) if isinstance(s, Polygon)]
    ring = list(max(shapes, key=lambda shape: shape.area).exterior.coords)[:-1]
    points = [(float(x), float(y)) for x, y in ring]
    left = sum(
        a[0] * b[1] - a[1] * b[0] for a, b in zip(points, points[1:] + points[:1], strict=True)
    )
    return Outline(tuple(points if left > 0 else points[::-1]))


def _corners(track: Track, outline: Outline) -> tuple[Vec2, ...]:
    """Return where the long sides of a channel, but for open ones, begin and end on the face."""
    found: list[Vec2] = []
    for v, is_open in zip(track.spans[1], track.opens[2:], strict=True):
        on_side = [
            track.measured(point)[0]
            for point in outline.points
            if abs(track.measured(point)[1] - v) < SAME_POINT_MM
        ]
        if on_side and not is_open:
            found += [track.point(u, v) for u in (min(on_side), max(on_side))]
    return tuple(found)


def _plain(piece: CutPiece) -> list[Side]:
    return [side for side in piece.sides if side.kind in {"end", "edge"}]


def _edge_along(piece: CutPiece, track: Track) -> Side:
    """Return the edge a channel is measured from.

    A rabbet from the edge it runs along; any other from one of the two it runs along, or that its
    sides look at most: for all channels that run alike the same one, which is nearest to one of
    them.
    """
    looking = sorted(_plain(piece), key=lambda side: -abs(_turn(side, track.across)))
    along = [side for side in looking if _is_along(track, side)]
    alike = [
        other
        for other in piece.tracks
        if abs(other.along[0] - track.along[0]) < SAME_ANGLE and not _is_rabbet(other)
    ]
    tracks = [track] if _is_rabbet(track) else alike

    def rank(side: Side) -> tuple[float, bool]:
        nearest = min(_inset(piece, other, side, other.middle) for other in tracks)
        return round(nearest, 3), side.name not in FROM_FIRST

    return min(along or looking[:2], key=rank)


def _turn(side: Side, direction: Vec2) -> float:
    x, y, _ = side.plane.normal
    return (x * direction[0] + y * direction[1]) / math.hypot(x, y)


def _is_along(track: Track, side: Side) -> bool:
    return abs(_turn(side, track.along)) < SAME_ANGLE * 10


def _inset(piece: CutPiece, track: Track, side: Side, point: Vec2) -> float:
    z = piece.slab.thickness_mm if track.in_b else 0.0
    return side.plane.inset((point[0], point[1], z))


def _end_middle(track: Track, end: int) -> Vec2:
    return track.point(track.spans[0][end], sum(track.spans[1]) / 2)


def _edge_at(piece: CutPiece, track: Track, end: int) -> Side:
    """Return the side of the piece that lies nearest to an end of the channel."""
    middle = Point(_end_middle(track, end))
    edges = _face(piece, track).edges()
    index = min(
        range(len(edges)),
        key=lambda i: round(LineString(edges[i][:2]).distance(middle) / SAME_POINT_MM),
    )
    return piece.sides[index]


def _met(piece: CutPiece, track: Track, end: int) -> list[Track]:
    """Return the channels, as deep or deeper, that a channel runs into at an end."""
    sign = 2 * SAME_PLANE_MM if end else -2 * SAME_PLANE_MM
    ahead = Point(track.point(track.spans[0][end] + sign, sum(track.spans[1]) / 2))
    return [
        other
        for other in piece.tracks
        if other.in_b == track.in_b
        and other.depth_mm > track.depth_mm - SAME_POINT_MM
        and other.outline.polygon().contains(ahead)
    ]


def _stop(piece: CutPiece, track: Track, end: int) -> tuple[str, float]:
    """Return the edge ahead of a closed end, and how far the end stays away from it."""
    sign = 1.0 if end else -1.0
    ahead = (track.along[0] * sign, track.along[1] * sign)
    side = max(_plain(piece), key=lambda side: _turn(side, ahead))
    corners = [track.point(track.spans[0][end], v) for v in track.spans[1]]
    return side.name, min(_inset(piece, track, side, corner) for corner in corners)
