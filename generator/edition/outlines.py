"""Free outlines with their sizes."""

from generator.edition.placing import Placed
from generator.formula.tree import Formula
from generator.geometry.vectors import Vec2
from generator.model.outline_points import OutlinePoint, OutlinePointSource
from generator.problems import ProblemLog


def evaluate_outline(piece: Placed, log: ProblemLog) -> tuple[OutlinePoint, ...] | None:
    """Return the points of a piece's free outline, or None where a problem was reported."""
    points = [_point(piece, source, log) for source in piece.source.outline]
    found = tuple(point for point in points if point is not None)
    return found if len(found) == len(points) else None


def _point(piece: Placed, source: OutlinePointSource, log: ProblemLog) -> OutlinePoint | None:
    scope, known = piece.scope, len(log.problems)
    at = _pair(piece, source.to, log)
    rise = None if source.rise is None else scope.length(source.rise, log)
    radius = None if source.radius is None else scope.length(source.radius, log)
    through = None if source.through is None else _pair(piece, source.through, log)
    if at is None or len(log.problems) > known:
        return None
    return OutlinePoint(at=at, rise_mm=rise, radius_mm=radius, through=through, place=source.place)


def _pair(piece: Placed, formulas: tuple[Formula, Formula], log: ProblemLog) -> Vec2 | None:
    x, y = (piece.scope.length(formula, log) for formula in formulas)
    return None if x is None or y is None else (x, y)
