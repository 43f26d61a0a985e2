"""Rows of pin holes with their sizes, and with what their faces and edges are called here."""

from generator.edition.placing import Placed
from generator.model.edition import OPPOSITE, Direction, PinRule
from generator.model.pin_rows import PinSource
from generator.problems import ProblemLog

MOST_PINS = 200
"""In one row: with the usual pitches more than the tallest sheet holds."""


def evaluate_pins(piece: Placed, log: ProblemLog) -> tuple[PinRule, ...] | None:
    """Return the rows of pin holes of a piece, or None where a problem was reported."""
    rows = [_row(piece, one, log) for one in piece.source.pins if piece.scope.holds(one.when, log)]
    found = tuple(row for row in rows if row is not None)
    return found if len(found) == len(rows) else None


def _row(piece: Placed, source: PinSource, log: ProblemLog) -> PinRule | None:
    scope = piece.scope
    hole = scope.positive_length(source.hole, log)
    deep = scope.positive_length(source.deep, log)
    pitch = scope.positive_length(source.pitch, log)
    (first, one), (second, two) = [
        (way, scope.length(formula, log)) for way, formula in source.distances
    ]
    known = len(log.problems)
    count = _count(piece, source, log)
    leave = None if source.leave is None else scope.length(source.leave, log)
    if hole is None or deep is None or pitch is None or one is None or two is None:
        return None
    if len(log.problems) > known:
        return None
    return PinRule(
        hole_mm=hole,
        deep_mm=deep,
        pitch_mm=pitch,
        face=_face(piece, source.face),
        along=piece.called(source.along),
        count=count,
        leave_mm=leave,
        distances=((piece.called(first), one), (piece.called(second), two)),
        place=source.place,
    )


def _face(piece: Placed, face: str) -> str:
    """Return the face as it is called here; ``inside`` and ``outside`` stay what they are."""
    ways: tuple[Direction, ...] = tuple(OPPOSITE)
    return next((piece.called(way) for way in ways if way == face), face)


def _count(piece: Placed, source: PinSource, log: ProblemLog) -> int | None:
    formula = source.count
    count = None if formula is None else piece.scope.whole(formula, log, "a whole number")
    if formula is not None and count is not None and not 1 <= count <= MOST_PINS:
        limit = f"a row has 1 to {MOST_PINS} holes"
        log.add("E101", formula.place, name=formula.text, value=count, limit=limit)
    return count
