"""Rods: round stock is crosscut square and nothing else."""

import math

from generator.geometry.rods import Rod
from generator.geometry.tolerance import PARALLEL_SINE, SAME_POINT_MM
from generator.model.edition import PieceSpec
from generator.parts.sides import Side, outline_at
from generator.problems import ProblemLog
from generator.units import System, format_angle, format_both


def cut_rod(
    spec: PieceSpec, sides: tuple[Side, ...], system: System, log: ProblemLog
) -> Rod | None:
    """Return the rod between two square ends, or None where P112 was said."""
    why = _find_fault(spec, sides, system)
    if why is not None:
        log.add("P112", spec.place, piece=spec.name, why=why)
        return None
    outline = outline_at(sides, 0.0)
    assert outline is not None
    low, _, high, _ = outline.bounds
    return Rod(high - low, spec.stock.thickness_mm)


def _find_fault(spec: PieceSpec, sides: tuple[Side, ...], system: System) -> str | None:
    if spec.edging:
        return "it is round: it has no edge to cover with edging"
    if spec.corners or spec.openings or spec.recesses or spec.pins:
        return "it is round: it has no corners, and what is cut into it has no place to be measured"
    ends = [side for side in sides if side.kind == "end"]
    for side in ends:
        off = math.degrees(math.acos(min(1.0, abs(side.plane.normal[0]))))
        if math.hypot(*side.plane.normal[1:]) > PARALLEL_SINE:
            return f"its {side.name} end is {format_angle(off)} off square; a rod is only crosscut"
    edges = [side for side in sides if side.kind == "edge"]
    if any(math.hypot(*side.plane.normal[::2]) > PARALLEL_SINE for side in edges):
        return "it is round: nothing can be cut along it"
    outline = outline_at(sides, 0.0)
    assert outline is not None
    _, low, _, high = outline.bounds
    diameter = spec.stock.thickness_mm
    if abs(high - low - diameter) > SAME_POINT_MM:
        wide, thick = format_both(high - low, system), format_both(diameter, system)
        return f"it is {wide} wide by the design, but a rod of this stock is {thick} all round"
    return None
