"""Mitres: the plane in which two panels meet edge to edge, each cut by half the corner.

o-----------------   outer face     The plane of the mitre holds two lines: o, in which the outer
| .    this panel                   faces of both panels meet, and i, in which their inner faces
|   .                               meet. Panels of one thickness are each cut by half of the angle
|     i-----------   inner face     between them. Seen from this panel, the outer face of its mate
|     |                             is the one that looks where the mitred edge looks; and the other
|     |                             way about.
  mate
"""

from collections.abc import Mapping

from generator.edition.names import Registry
from generator.edition.placing import LOCAL, Placed
from generator.geometry.frames import Plane
from generator.geometry.tolerance import MEETS_SINE
from generator.geometry.vectors import Vec3, cross, dot, norm, scale, subtract
from generator.model.design import MitreSource
from generator.problems import ProblemLog

_TURN_ONE = "a mitre is cut where two panels meet at an angle; turn one of them"


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
    mine = _outer_face(piece, mate.direction_to_room(LOCAL[other_key]), thickness)
    theirs = _outer_face(mate, outward, thickness)
    names = sorted((piece.name, mate.name))
    if norm(cross(mine.normal, theirs.normal)) < MEETS_SINE:
        _report_no_corner(source, names, "the two panels are parallel", _TURN_ONE, log)
        return None
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
    low = panel.plane_to_room(Plane((0.0, 0.0, -1.0), 0.0))
    high = panel.plane_to_room(Plane((0.0, 0.0, 1.0), thickness[panel.source.stock]))
    return max((low, high), key=lambda plane: dot(plane.normal, toward))


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
