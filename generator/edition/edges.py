"""Edge rules with their targets found: which plane, in the room, an edge is cut along."""

import math
from collections.abc import Mapping

from generator.edition.housings import evaluate_housed
from generator.edition.mitres import find_mitre_plane
from generator.edition.names import Registry
from generator.edition.placing import LOCAL, WAY_VECTORS, Placed, turn_frame
from generator.edition.scope import Scope
from generator.geometry.frames import Frame, Plane
from generator.geometry.vectors import Vec3, dot
from generator.model.design import PlaneSource
from generator.model.edge_sources import (
    AgainstSource,
    BevelSource,
    IntoSource,
    MitreSource,
    Reference,
)
from generator.model.edition import Against, Bevel, Direction, EdgeRule, Plain
from generator.problems import ProblemLog
from generator.units import format_angle, format_length

STEEPEST_BEVEL_DEG = 75.0
"""Beyond this a bevel is a second face, not an edge."""

FLOOR = Plane((0.0, 0.0, 1.0), 0.0)


def evaluate_planes(
    sources: tuple[PlaneSource, ...], scope: Scope, log: ProblemLog
) -> dict[str, Plane]:
    """Return the named planes of a design, and the floor."""
    planes = {"floor": FLOOR}
    for source in sources:
        at = scope.point(source.at, log)
        if at is None:
            continue
        frame = turn_frame(Frame(at), source.turns, scope, log)
        if frame is not None:
            planes[source.name] = frame.plane_to_world(Plane(WAY_VECTORS[source.facing], 0.0))
    return planes


def evaluate_rules(
    piece: Placed,
    registry: Registry,
    planes: Mapping[str, Plane],
    thickness: Mapping[str, float],
    log: ProblemLog,
) -> tuple[EdgeRule, EdgeRule, EdgeRule, EdgeRule] | None:
    """Return the rules of the four edges in the order x-, x+, y-, y+."""
    written = dict(piece.source.edges)
    names = dict(registry.sawn_as(piece).words)
    rules: list[EdgeRule | None] = []
    for key in ("length-", "length+", "width-", "width+"):
        source = written.get(names[key])
        if source is None:
            rules.append(Plain())
        elif isinstance(source, BevelSource):
            rules.append(_bevel(source, piece, names, log))
        elif isinstance(source, MitreSource):
            rules.append(_mitre(source, key, piece, registry, thickness, log))
        elif isinstance(source, IntoSource):
            rules.append(_into(source, key, piece, registry, thickness, log))
        else:
            rules.append(_against(source, key, piece, registry, planes, thickness, log))
    if rules[0] is None or rules[1] is None or rules[2] is None or rules[3] is None:
        return None
    return (rules[0], rules[1], rules[2], rules[3])


def _bevel(
    source: BevelSource, piece: Placed, names: dict[str, Direction], log: ProblemLog
) -> Bevel | None:
    angle = piece.scope.angle(source.angle, log)
    if angle is None:
        return None
    if not 0 <= angle <= STEEPEST_BEVEL_DEG:
        log.add(
            "E101",
            source.angle.place,
            name=source.angle.text,
            value=format_angle(angle),
            limit=f"a bevel is between 0° and {format_angle(STEEPEST_BEVEL_DEG)}",
        )
        return None
    side = next(key for key, name in names.items() if name == source.long_face)
    outward = piece.frame.direction(LOCAL[side])
    return Bevel(angle_deg=angle, long_outward=outward, place=source.place)


def _against(
    source: AgainstSource,
    key: str,
    piece: Placed,
    registry: Registry,
    planes: Mapping[str, Plane],
    thickness: Mapping[str, float],
    log: ProblemLog,
) -> Against | None:
    """Return the rule of an edge.

    A mirrored piece is cut before it is mirrored, so its target is that of the copy it mirrors.
    """
    target = source.target
    if target.name in planes and target.name not in registry.parts:
        meets = "the floor" if target.name == "floor" else target.name.replace("_", " ")
        return Against(plane=planes[target.name], meets=meets, place=source.place)
    found = registry.find_one(target, piece.scope, log)
    if found is None:
        return None
    other, face = found
    if other.name == registry.sawn_as(piece).name:
        log.add("E115", target.place, piece=piece.name)
        return None
    outward = piece.frame.direction(LOCAL[key])
    plane = _face_plane(target, other, face, outward, thickness[other.source.stock], log)
    if plane is None:
        return None
    return Against(plane=plane, meets=_spoken(other, face), place=source.place)


def _into(
    source: IntoSource,
    key: str,
    piece: Placed,
    registry: Registry,
    thickness: Mapping[str, float],
    log: ProblemLog,
) -> Against | None:
    """Return the rule of a housed edge: it is cut where the floor of its channel is."""
    found = evaluate_housed(source, key, piece, registry, thickness, log)
    if found is None:
        return None
    host, floor, housed = found
    depth = format_length(housed.depth_mm, piece.scope.system)
    meets = f"{_spoken(host, None)}, housed {depth} deep"
    return Against(plane=floor, meets=meets, place=source.place, housed=housed)


def _mitre(
    source: MitreSource,
    key: str,
    piece: Placed,
    registry: Registry,
    thickness: Mapping[str, float],
    log: ProblemLog,
) -> Against | None:
    """Return the rule of a mitred edge; a mirrored piece is mitred before it is mirrored."""
    found = registry.find_one(source.target, piece.scope, log)
    if found is None:
        return None
    mate, face = found
    if face is not None:
        hint = f"a piece is named here, such as `{mate.name}`, not one of its faces"
        log.add("D202", source.target.place, kind="piece", name=source.target.text, hint=hint)
        return None
    sawn = registry.sawn_as(piece)
    if mate.name == sawn.name:
        log.add("E115", source.target.place, piece=piece.name)
        return None
    plane = find_mitre_plane(source, key, sawn, mate, registry, thickness, log)
    if plane is None:
        return None
    return Against(plane=plane, meets=f"{_spoken(mate, None)}, mitred", place=source.place)


def _face_plane(
    target: Reference,
    other: Placed,
    face: Direction | None,
    outward: Vec3,
    thickness: float,
    log: ProblemLog,
) -> Plane | None:
    """Return a face of another piece: the named one, else the one that looks at this piece."""
    low = other.plane_to_room(Plane((0.0, 0.0, -1.0), 0.0))
    high = other.plane_to_room(Plane((0.0, 0.0, 1.0), thickness))
    if face is None:
        return min((low, high), key=lambda plane: dot(plane.normal, outward))
    words = {name: key for key, name in other.words}
    if words[face] == "through-":
        return low
    if words[face] == "through+":
        return high
    return _edge_plane(target, other, words[face], face, log)


def _edge_plane(
    target: Reference, other: Placed, key: str, face: Direction, log: ProblemLog
) -> Plane | None:
    """Return a plain edge of another piece; E113 where that edge is itself cut by a relation."""
    if other.mirror is not None or face in dict(other.source.edges):
        faces = " and ".join(name for k, name in other.words if k.startswith("through"))
        log.add(
            "E113",
            target.place,
            edge=face,
            piece=other.name,
            hint=f"name one of its faces: {faces}",
        )
        return None
    span = 0.0
    if key.endswith("+"):
        formula = other.source.length if key.startswith("length") else other.source.width
        length = None if formula is None else other.scope.length(formula, log)
        if length is None:
            return None
        span = length
    return other.plane_to_room(Plane(LOCAL[key], math.copysign(span, 1.0)))


def _spoken(other: Placed, face: Direction | None) -> str:
    name = other.source.title.lower()
    words = [name]
    if other.index:
        words.append(",".join(map(str, other.index)))
    if other.copy:
        words.append(other.copy.replace("_", " "))
    return " ".join(words) if face is None else f"{' '.join(words)} ({face})"
