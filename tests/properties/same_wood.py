"""Compares plans that must tell a builder the same, wherever the piece stands in the room."""

import pytest

from generator.model.parts import Part
from generator.model.plan import Plan

NEAR = 1e-6


def compare_plans(one: Plan, other: Plan) -> None:
    """Hold two plans to the same parts, screws, holes and layout lines."""
    compare_parts(one, other)
    compare_screws(one, other)
    compare_marks(one, other)


def compare_parts(one: Plan, other: Plan) -> None:
    """Hold two plans to the same parts in the same order."""
    assert [part.label for part in one.parts.parts] == [part.label for part in other.parts.parts]
    for mine, theirs in zip(one.parts.parts, other.parts.parts, strict=True):
        assert [piece.name for piece in mine.pieces] == [piece.name for piece in theirs.pieces]
        compare_part(mine, theirs)


def compare_part(mine: Part, theirs: Part) -> None:
    """Hold two parts to the same sizes, edges, faces and openings."""
    assert (mine.length_mm, mine.width_mm) == pytest.approx((theirs.length_mm, theirs.width_mm))
    assert mine.section == theirs.section
    assert [(edge.name, edge.kind, edge.long_face) for edge in mine.edges] == [
        (edge.name, edge.kind, edge.long_face) for edge in theirs.edges
    ]
    for first, second in zip(mine.edges, theirs.edges, strict=True):
        assert (first.tilt_deg, first.mitre_deg) == pytest.approx(
            (second.tilt_deg, second.mitre_deg), abs=NEAR
        )
    for face in ("face_a", "face_b"):
        for a, b in zip(
            getattr(mine.slab, face).points, getattr(theirs.slab, face).points, strict=True
        ):
            assert a == pytest.approx(b, abs=NEAR)
    assert mine.slab.volume_mm3 == pytest.approx(theirs.slab.volume_mm3)
    assert [(h.kind, h.side, h.edge, h.opens) for h in mine.housings] == [
        (h.kind, h.side, h.edge, h.opens) for h in theirs.housings
    ]
    assert [
        (h.depth_mm, h.width_mm, h.length_mm, h.from_mm, h.to_mm, h.angle_deg)
        for h in mine.housings
    ] == [
        pytest.approx(
            (h.depth_mm, h.width_mm, h.length_mm, h.from_mm, h.to_mm, h.angle_deg), abs=NEAR
        )
        for h in theirs.housings
    ]
    assert [opening.center for opening in mine.openings] == [
        pytest.approx(opening.center, abs=NEAR) for opening in theirs.openings
    ]


def compare_screws(one: Plan, other: Plan) -> None:
    """Hold two plans to the same screws in the same holes of the same pieces.

    Screws are numbered from left to right in the room: turned, they may count the other way.
    """
    assert [(s.joint, s.goods.key, s.through) for s in one.joinery.fasteners] == [
        (s.joint, s.goods.key, s.through) for s in other.joinery.fasteners
    ]
    for mine, theirs in zip(_holes(one), _holes(other), strict=True):
        assert mine == theirs


def _holes(plan: Plan) -> list[tuple[str, str, int, tuple[float, ...]]]:
    """Return the holes of a plan by piece and place, to a hundredth of a millimetre."""
    return sorted(
        (
            hole.piece,
            hole.kind,
            hole.side,
            tuple(round(value, 2) + 0.0 for value in (*hole.at, *hole.direction)),
        )
        for hole in plan.joinery.holes
    )


def compare_marks(one: Plan, other: Plan) -> None:
    """Hold two plans to the same layout lines."""
    mine = [mark for step in one.assembly.steps for mark in step.marks]
    theirs = [mark for step in other.assembly.steps for mark in step.marks]

    assert [(m.label, m.copies, m.side, m.edge) for m in mine] == [
        (m.label, m.copies, m.side, m.edge) for m in theirs
    ]
    for first, second in zip(mine, theirs, strict=True):
        assert (first.from_mm, first.to_mm) == pytest.approx(
            (second.from_mm, second.to_mm), abs=1e-4
        )
