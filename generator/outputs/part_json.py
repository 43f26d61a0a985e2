"""One part of a plan for programs: sizes, faces, edges, features, bored holes, where it stands."""

from typing import Any

from generator.model.joinery import BoredHole
from generator.model.parts import FACE_A, FACE_B, Edge, Housing, Opening, Part, Piece, Recess
from generator.model.plan import Plan
from generator.outputs.rounding import deg, fine, mm, points, vector
from generator.units import format_size

Json = dict[str, Any]


def part_to_dict(plan: Plan, part: Part) -> Json:
    """Return the entry of a part; coordinates are in the part's own frame."""
    blank = next(one for one in plan.cutting.blanks if one.label == part.label)
    system = plan.edition.system
    return {
        "label": part.label,
        "name": part.name,
        "title": part.title,
        "count": part.count,
        "stock": part.stock.name,
        "material": part.stock.title,
        "thickness_mm": mm(part.thickness_mm),
        "length_mm": mm(part.length_mm),
        "width_mm": mm(part.width_mm),
        "blank_mm": [mm(blank.length_mm), mm(blank.width_mm)],
        "blank_count": blank.count,
        "allowance_mm": [mm(value) for value in blank.allowance_mm],
        "shown": [format_size(part.length_mm, system), format_size(part.width_mm, system)],
        "grain": part.grain,
        "section": part.section,
        "faces": {"A": part.face_words[0], "B": part.face_words[1]},
        "outline_mm": points(part.slab.face_a),
        "outline_b_mm": points(part.slab.face_b),
        "bulges": vector(part.slab.face_a.bulges),
        "area_mm2": _areas(part),
        "edges": [_edge(part, index) for index in range(len(part.edges))],
        "features": [
            *_corners(part),
            *(_recess(recess) for recess in part.recesses if recess.kind != "outline"),
            *(_opening(opening) for opening in part.openings),
            *(_housing(part, housing) for housing in part.housings),
        ],
        "holes": [
            _hole(part, piece, hole)
            for piece in part.pieces
            for hole in plan.joinery.holes
            if hole.piece == piece.name
        ],
        "volume_mm3": mm(part.volume_mm3),
        "mass_kg": mm(part.mass_kg),
        "placed": [_placed(piece) for piece in part.pieces],
    }


def side_name(part: Part, side: int) -> str:
    """Return ``A``, ``B`` or the name of an edge."""
    if side == FACE_A:
        return "A"
    if side == FACE_B:
        return "B"
    return part.edges[side].name


def _areas(part: Part) -> list[float]:
    holes = sum(hole.area_mm2 for hole in part.slab.holes)
    return [mm(face.area_mm2 - holes) for face in (part.slab.face_a, part.slab.face_b)]


def _edge(part: Part, index: int) -> Json:
    edge: Edge = part.edges[index]
    start, end, bulge = part.slab.face_a.edges()[index]
    return {
        "name": edge.name,
        "kind": edge.kind,
        "from": vector(start),
        "to": vector(end),
        "bulge": fine(bulge),
        "radius_mm": mm(edge.radius_mm),
        "tilt_deg": deg(edge.tilt_deg),
        "mitre_deg": deg(edge.mitre_deg),
        "long_face": edge.long_face,
        "meets": edge.meets,
        "edging": "" if edge.edging is None else edge.edging.key,
    }


def _corners(part: Part) -> list[Json]:
    corners = []
    for edge, (start, end, _) in zip(part.edges, part.slab.face_a.edges(), strict=True):
        if edge.kind == "corner":
            along, across = abs(end[0] - start[0]), abs(end[1] - start[1])
            corners.append(
                {
                    "kind": "round" if edge.radius_mm > 0 else "clip",
                    "name": edge.name,
                    "size_mm": [mm(along), mm(across)],
                    "radius_mm": mm(edge.radius_mm),
                }
            )
    return corners


def _recess(recess: Recess) -> Json:
    return {
        "kind": recess.kind,
        "name": recess.name,
        "size_mm": [mm(size) for size in recess.sizes_mm],
        "outline_mm": points(recess.outline),
        "bulges": vector(recess.outline.bulges),
    }


def _opening(opening: Opening) -> Json:
    return {
        "kind": opening.name,
        "center_mm": vector(opening.center),
        "size_mm": [mm(size) for size in opening.sizes_mm],
        "radius_mm": mm(opening.radius_mm),
        "along": "length" if opening.along_x else "width",
    }


def _housing(part: Part, housing: Housing) -> Json:
    return {
        "kind": housing.kind,
        "side": side_name(part, housing.side),
        "outline_mm": points(housing.outline),
        "depth_mm": mm(housing.depth_mm),
        "width_mm": mm(housing.width_mm),
        "length_mm": mm(housing.length_mm),
        "angle_deg": deg(housing.angle_deg),
        "from_edge": housing.edge,
        "from_mm": mm(housing.from_mm),
        "to_mm": mm(housing.to_mm),
        "open_at": list(housing.opens),
        "stopped": [{"edge": edge, "away_mm": mm(away)} for edge, away in housing.stops],
        "mates": list(housing.mates),
    }


def _hole(part: Part, piece: Piece, hole: BoredHole) -> Json:
    return {
        "piece": piece.name,
        "copy": piece.copy,
        "fastener": hole.fastener,
        "kind": hole.kind,
        "side": side_name(part, hole.side),
        "at_mm": [mm(value) for value in hole.at],
        "direction": vector(hole.direction),
        "diameter_mm": mm(hole.diameter_mm),
        "depth_mm": None if hole.depth_mm is None else mm(hole.depth_mm),
        "countersink_mm": mm(hole.countersink_mm),
    }


def _placed(piece: Piece) -> Json:
    return {
        "name": piece.name,
        "copy": piece.copy,
        "frame": [vector(row) for row in piece.frame.matrix()],
    }
