"""Mitres: the plane in which two pieces meet edge to edge, each cut by half the corner.

o-----------------   outer face     The plane of the mitre holds two lines: o, in which the outer
| .    this panel                   faces of both panels meet, and i, in which their inner faces
|   .                               meet. Panels of one thickness are each cut by half of the angle
|     i-----------   inner face     between them. Seen from this panel, the outer face of its mate
|     |                             is the one that looks where the mitred edge looks; and the other
|     |                             way about.
  mate

So it is where two panels stand at an angle. Two boards of a frame lie in one plane; there the same
holds for the edges along them: the mitre runs from where their outer edges meet to where the inner
ones meet.
"""

from collections.abc import Mapping

from generator.edition.names import Registry
from generator.edition.placing import LOCAL, Placed
from generator.geometry.frames import Plane
from generator.geometry.tolerance import MEETS_SINE, SAME_PLANE_MM
from generator.geometry.vectors import Vec3, cross, dot, norm, scale, subtract
from generator.model.edge_sources import MitreSource
from generator.problems import ProblemLog

_TURN_ONE = "a mitre is cut where two pieces meet at an angle; turn one of them"


def find_mitre_plane(
    source: MitreSource,
    key: str,
    piece: Placed,
    mate: Placed,
    registry: Registry,
    thickness: Mapping[str, float],
    log: ProblemLog,
) -> Plane | None:
    """Return the plane in which a piece is mitred with its mate, or None where there is none.

    E117 is reported where the mate is not mitred with the piece, E118 where the two make no mitre.

    Args:
        source: As written.
        key: The edge, as a local direction such as ``length+``.
        piece: As it is sawn: before it is mirrored.
        mate: Where it stands in the room.
        registry: All pieces.
        thickness: Of every stock.
        log: Takes the problems.
    """
    edge = dict(piece.words)[key]
    other_key = _find_mitred_edge(mate, piece, registry)
    if other_key is None:
        _report_one_sided(source, edge, piece, mate, log)
        return None
    outward = piece.direction_to_room(LOCAL[key])
    theirs_outward = mate.direction_to_room(LOCAL[other_key])
    mine = _outer_face(piece, theirs_outward, thickness)
    theirs = _outer_face(mate, outward, thickness)
    names = sorted((piece.name, mate.name))
    if norm(cross(mine.normal, theirs.normal)) < MEETS_SINE:
        if not _lie_in_one_plane(piece, mate, thickness):
            _report_no_corner(source, names, "the two are parallel", _TURN_ONE, log)
            return None
        ways = (theirs_outward, outward)
        return _find_frame_plane(source, (piece, key), (mate, other_key), ways, log)
    if abs(dot(theirs.normal, outward)) < MEETS_SINE:
        why = f"edge `{edge}` of `{piece.name}` runs along `{mate.name}`"
        _report_no_corner(source, names, why, "name another edge", log)
        return None
    return _plane_between(mine, thickness[piece.source.stock], theirs, thickness[mate.source.stock])


def _find_mitred_edge(mate: Placed, piece: Placed, registry: Registry) -> str | None:
    """Return the edge of the mate that is mitred with the piece, as a local direction.

    A mirrored mate is cut as the copy it mirrors; where that copy is mitred with its own mirror
    image, the image is mitred with it. What is wrong with the mate's own names is said elsewhere.
    """
    sawn = registry.sawn_as(mate)
    names = {name: key for key, name in sawn.words}
    for way, rule in mate.source.edges:
        if not isinstance(rule, MitreSource):
            continue
        found = registry.find_one(rule.target, mate.scope, ProblemLog())
        if found is None:
            continue
        target = found[0].name
        if target == piece.name or (target == mate.name and sawn.name == piece.name):
            return names[way]
    return None


def _outer_face(panel: Placed, toward: Vec3, thickness: Mapping[str, float]) -> Plane:
    """Return the face of a panel that looks a way more than the other one."""
    faces = [_face(panel, key, thickness) for key in ("through-", "through+")]
    return max(faces, key=lambda plane: dot(plane.normal, toward))


def _face(panel: Placed, key: str, thickness: Mapping[str, float]) -> Plane:
    size = thickness[panel.source.stock] if key == "through+" else 0.0
    return panel.plane_to_room(Plane(LOCAL[key], size))


def _lie_in_one_plane(piece: Placed, mate: Placed, thickness: Mapping[str, float]) -> bool:
    """Whether two parallel pieces share some of their thickness."""
    up = piece.direction_to_room(LOCAL["through+"])
    spans = []
    for one in (piece, mate):
        faces = [_face(one, key, thickness) for key in ("through-", "through+")]
        ends = [face.offset * dot(face.normal, up) for face in faces]
        spans.append((min(ends), max(ends)))
    (low, high), (other_low, other_high) = spans
    return min(high, other_high) - max(low, other_low) > SAME_PLANE_MM


def _find_frame_plane(
    source: MitreSource,
    mine: tuple[Placed, str],
    theirs: tuple[Placed, str],
    ways: tuple[Vec3, Vec3],
    log: ProblemLog,
) -> Plane | None:
    """Return the mitre of two pieces in one plane; E118 where their edges make no corner.

    Args:
        source: As written.
        mine: This piece and its mitred edge.
        theirs: The mate and its mitred edge.
        ways: The way the mate's mitred edge looks, and the way this one does.
        log: Takes the problems.
    """
    names = sorted((mine[0].name, theirs[0].name))
    edges = []
    for (piece, key), toward in zip((mine, theirs), ways, strict=True):
        edge = _outer_edge(piece, key, toward, log)
        if edge is None:
            why = f"the edges along `{piece.name}` are not known before it is cut"
            hint = f"give `{piece.name}` its size across, and leave these edges plain"
            _report_no_corner(source, names, why, hint, log)
            return None
        edges.append(edge)
    (my_edge, my_mm), (their_edge, their_mm) = edges
    if norm(cross(my_edge.normal, their_edge.normal)) < MEETS_SINE:
        why = "they lie in one plane and run the same way"
        _report_no_corner(source, names, why, _TURN_ONE, log)
        return None
    return _plane_between(my_edge, my_mm, their_edge, their_mm)


def _outer_edge(
    piece: Placed, key: str, toward: Vec3, log: ProblemLog
) -> tuple[Plane, float] | None:
    """Return the edge beside a mitred one that looks a way more than the other, and their distance.

    None where one of the two is cut to fit, or no size says how far they are apart.
    """
    across = "width" if key.startswith("length") else "length"
    names = dict(piece.words)
    formula = piece.source.width if across == "width" else piece.source.length
    cut = {way for way, _ in piece.source.edges}
    if formula is None or cut & {names[f"{across}-"], names[f"{across}+"]}:
        return None
    size = piece.scope.length(formula, log)
    if size is None:
        return None
    low = piece.plane_to_room(Plane(LOCAL[f"{across}-"], 0.0))
    high = piece.plane_to_room(Plane(LOCAL[f"{across}+"], size))
    return max((low, high), key=lambda plane: dot(plane.normal, toward)), size


def _plane_between(mine: Plane, my_mm: float, theirs: Plane, their_mm: float) -> Plane:
    """Return the plane through the line of two outer faces and the line of the inner ones.

    All points as many thicknesses deep in one panel as in the other lie in it.
    """
    across = subtract(scale(mine.normal, their_mm), scale(theirs.normal, my_mm))
    length = norm(across)
    offset = mine.offset * their_mm - theirs.offset * my_mm
    return Plane(scale(across, 1 / length), offset / length)


def _report_one_sided(
    source: MitreSource, edge: str, piece: Placed, mate: Placed, log: ProblemLog
) -> None:
    hint = (
        f"cut the edge of `{mate.name}` there `mitre with {piece.name}`, "
        f"or this one `against {mate.name}`"
    )
    log.add("E117", source.place, edge=edge, piece=piece.name, mate=mate.name, hint=hint)


def _report_no_corner(
    source: MitreSource, names: list[str], why: str, hint: str, log: ProblemLog
) -> None:
    """Report two panels that make no mitre; where both say so, they say it in the same words."""
    log.add("E118", source.place, first=names[0], second=names[1], why=why, hint=hint)
