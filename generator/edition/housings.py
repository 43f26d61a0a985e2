"""Housed edges: in which face of which piece an edge stands, and how deep.

A mirrored piece is cut before it is mirrored: its edge follows the host of the copy it mirrors, and
it stands in whatever piece has a face where the mirror image of that host's face is.
"""

from collections.abc import Mapping

from generator.edition.names import Registry
from generator.edition.placing import LOCAL, Placed
from generator.geometry.frames import Plane, reflect_plane
from generator.geometry.tolerance import PARALLEL_SINE, SAME_PLANE_MM
from generator.geometry.vectors import dot, norm, subtract
from generator.model.edge_sources import IntoSource
from generator.model.edition import Direction, Housed
from generator.problems import ProblemLog, format_near_names


def evaluate_housed(
    source: IntoSource,
    key: str,
    piece: Placed,
    registry: Registry,
    thickness: Mapping[str, float],
    log: ProblemLog,
) -> tuple[Placed, Plane, Housed] | None:
    """Return the host, the plane of the floor of its channel, and how the edge is housed.

    The plane is that of the copy a mirrored piece mirrors. E131 is reported where no channel can
    be cut into what is named, E115 where it is the piece itself.

    Args:
        source: As written.
        key: The edge, as a local direction such as ``length+``.
        piece: Where it stands.
        registry: All pieces.
        thickness: Of every stock.
        log: Takes the problems.
    """
    found = registry.find_one(source.target, piece.scope, log)
    depth = piece.scope.positive_length(source.depth, log)
    if found is None or depth is None:
        return None
    host, named = found
    if host.name == registry.sawn_as(piece).name:
        log.add("E115", source.target.place, piece=piece.name)
        return None
    face = _find_face(source, key, piece, host, named, thickness, log)
    stops = _evaluate_stops(source, piece, host, log)
    if face is None or stops is None:
        return None
    floor = Plane(face.normal, face.offset - depth)
    hosts: tuple[str, ...] = (host.name,)
    if piece.mirror is not None:
        face = reflect_plane(face, piece.mirror)
        hosts = _pieces_with(face, host, registry, thickness)
    housed = Housed(named=host.name, hosts=hosts, face=face, depth_mm=depth, stops=stops)
    return host, floor, housed


def _find_face(
    source: IntoSource,
    key: str,
    piece: Placed,
    host: Placed,
    named: Direction | None,
    thickness: Mapping[str, float],
    log: ProblemLog,
) -> Plane | None:
    """Return the named face of the host, else the one that looks at the piece; E131 for an edge."""
    low, high = _faces_of(host, thickness)
    words = {name: way for way, name in host.words}
    if named is None:
        outward = piece.frame.direction(LOCAL[key])
        return min((low, high), key=lambda plane: dot(plane.normal, outward))
    if "through" not in words[named]:
        _report_edge(source, dict(piece.words)[key], piece, host, named, log)
        return None
    return low if words[named] == "through-" else high


def _faces_of(piece: Placed, thickness: Mapping[str, float]) -> tuple[Plane, Plane]:
    low = piece.plane_to_room(Plane((0.0, 0.0, -1.0), 0.0))
    high = piece.plane_to_room(Plane((0.0, 0.0, 1.0), thickness[piece.source.stock]))
    return low, high


def _report_edge(
    source: IntoSource, edge: str, piece: Placed, host: Placed, named: Direction, log: ProblemLog
) -> None:
    faces = " or ".join(f"`{host.name}.{name}`" for way, name in host.words if "through" in way)
    log.add(
        "E131",
        source.target.place,
        edge=edge,
        piece=piece.name,
        why=f"`{named}` is an edge of `{host.name}`, and a channel is cut into a face",
        hint=f"name one of its faces, {faces}, or cut this edge `against {source.target.text}`",
    )


def _evaluate_stops(
    source: IntoSource, piece: Placed, host: Placed, log: ProblemLog
) -> tuple[tuple[Direction, float], ...] | None:
    """Return the edges of the host the channel stays away from; D202 where it has none such."""
    stops: list[tuple[Direction, float]] = []
    edges = [name for way, name in host.words if "through" not in way]
    for way, formula in source.stops:
        distance = piece.scope.positive_length(formula, log)
        if way not in edges:
            hint = format_near_names(way, edges)
            log.add("D202", source.place, kind=f"edge of `{host.name}`", name=way, hint=hint)
        elif distance is not None:
            stops.append((way, distance))
    return tuple(stops) if len(stops) == len(source.stops) else None


def _pieces_with(
    face: Plane, host: Placed, registry: Registry, thickness: Mapping[str, float]
) -> tuple[str, ...]:
    """Return the pieces that have a face in a plane, those of the host's part before others."""
    found = [
        piece
        for pieces in registry.parts.values()
        for piece in pieces
        if any(_is_same(face, other) for other in _faces_of(piece, thickness))
    ]
    found.sort(key=lambda piece: piece.source.name != host.source.name)
    return tuple(piece.name for piece in found)


def _is_same(one: Plane, other: Plane) -> bool:
    apart = norm(subtract(one.normal, other.normal))
    return apart < PARALLEL_SINE and abs(one.offset - other.offset) < SAME_PLANE_MM
