"""Which pieces are the same wood: equal solids after a half turn or after turning over.

The length stays along the grain, so four ways of laying a piece are tried:

    as it lies    (x, y, z)
    half turn     (L - x, W - y, z)
    over the length axis   (x, W - y, t - z)
    over the width axis    (L - x, y, t - z)

All four are proper turns: the mirror image of a bevelled piece is not the same piece of wood.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.geometry.channels import Channel
from generator.geometry.frames import Frame
from generator.geometry.outlines import Outline
from generator.geometry.rods import Body
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.parts import FACE_A, FACE_B, Opening, PinHole
from generator.parts.cut_piece import CutPiece
from generator.parts.edging import is_covered_alike


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How a piece lies on an equal one.

    Attributes:
        pose: The frame of the equal piece, in the piece's own frame.
        sides: For every side number of the equal piece, the piece's own side number.
        channels: For every channel of the equal piece, the piece's own number of it.
    """

    pose: Frame
    sides: dict[int, int]
    channels: tuple[int, ...] = ()


Spread = tuple[int, float, float]
"""How many corners a face has, and how far the corners of both faces lie apart in x and in y."""


def spread_of(piece: CutPiece) -> Spread:
    """Return what no way of laying a piece changes: it is quickly compared."""
    points = (*piece.slab.face_a.points, *piece.slab.face_b.points)
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (len(piece.slab.face_a.points), max(xs) - min(xs), max(ys) - min(ys))


def may_be_alike(first: Spread, second: Spread) -> bool:
    """Whether a closer look is due; corners of equal pieces differ by less than `SAME_POINT_MM`."""
    return (
        first[0] == second[0]
        and abs(first[1] - second[1]) < 2 * SAME_POINT_MM
        and abs(first[2] - second[2]) < 2 * SAME_POINT_MM
    )


def find_fit(model: CutPiece, piece: CutPiece) -> Fit | None:
    """Return how ``piece`` lies on ``model`` if both are the same wood, else None.

    A way that brings pin holes on pin holes is preferred, then one that brings show face on show
    face, then one under which most sides have the same words, the ends before the edges: most
    layout lines are measured from an end. Handed copies with pin holes lie end on end before all:
    their rows are bored with one template, from the same end.
    """
    if model.spec.stock != piece.spec.stock or model.spec.grain != piece.spec.grain:
        return None
    fits = [fit for way in _ways(piece.slab) if (fit := _try_way(model, piece, way)) is not None]
    return max(
        fits,
        key=lambda fit: (
            _has_pins_alike(model, piece, fit),
            _count_same_words(model, piece, fit)[1] if model.pins else 0,
            _shows_alike(model, piece, fit),
            *_count_same_words(model, piece, fit),
        ),
        default=None,
    )


def pins_on_model(piece: CutPiece, fit: Fit) -> tuple[PinHole, ...]:
    """Return the pin holes of a piece in the frame of the model it lies on."""
    face_of = {own: side for side, own in fit.sides.items()}
    return tuple(
        replace(pin, center=_to_model(pin.center, fit.pose), side=face_of[pin.side])
        for pin in piece.pins
    )


def _has_pins_alike(model: CutPiece, piece: CutPiece, fit: Fit) -> bool:
    """Whether a piece that lies on a model has the same holes for pins."""
    laid = pins_on_model(piece, fit)
    return len(laid) == len(model.pins) and all(
        any(_is_same_pin(pin, other) for other in laid) for pin in model.pins
    )


def _is_same_pin(one: PinHole, other: PinHole) -> bool:
    numbers = (*one.center, one.diameter_mm, one.depth_mm)
    others = (*other.center, other.diameter_mm, other.depth_mm)
    return one.side == other.side and all(
        abs(a - b) < SAME_POINT_MM for a, b in zip(numbers, others, strict=True)
    )


def _shows_alike(model: CutPiece, piece: CutPiece, fit: Fit) -> bool:
    return all(fit.sides[side] in piece.show for side in model.show)


def _count_same_words(model: CutPiece, piece: CutPiece, fit: Fit) -> tuple[int, int]:
    """Return how many sides have the same words on both, and how many of them are ends."""
    mine, theirs = _side_words(model), _side_words(piece)
    same = [side for side, own in fit.sides.items() if mine[side] == theirs[own]]
    return len(same), sum(side >= 0 and model.sides[side].kind == "end" for side in same)


def _side_words(piece: CutPiece) -> dict[int, str]:
    words = {index: side.name for index, side in enumerate(piece.sides)}
    return {**words, FACE_A: piece.face_words[0], FACE_B: piece.face_words[1]}


def _ways(slab: Body) -> tuple[tuple[Frame, bool, bool], ...]:
    """Return each way as the model's frame in the piece, and whether x and y run backwards."""
    length, width = slab.bounds[2], slab.bounds[3]
    t = slab.thickness_mm
    return (
        (Frame(), False, False),
        (Frame((length, width, 0.0), (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0)), True, True),
        (Frame((0.0, width, t), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0)), False, True),
        (Frame((length, 0.0, t), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0)), True, False),
    )


def _try_way(model: CutPiece, piece: CutPiece, way: tuple[Frame, bool, bool]) -> Fit | None:
    pose, back_x, back_y = way
    if abs(model.slab.thickness_mm - piece.slab.thickness_mm) > SAME_POINT_MM:
        return None
    turned_over = back_x != back_y
    low, high = piece.slab.face_a, piece.slab.face_b
    if turned_over:
        low, high = high, low
    low, high = (_laid(outline, pose, turned_over) for outline in (low, high))
    shift = _shift_between((model.slab.face_a, model.slab.face_b), (low, high))
    channels = _match_channels(model, piece, pose, turned_over)
    if shift is None or channels is None or not _same_openings(model, piece, pose):
        return None
    count = len(low.points)
    sides = {}
    for i in range(count):
        j = (i + shift) % count
        sides[i] = (count - 1 - j - 1) % count if turned_over else j
    if not is_covered_alike((model.spec, model.sides), (piece.spec, piece.sides), sides):
        return None
    sides[FACE_A], sides[FACE_B] = (FACE_B, FACE_A) if turned_over else (FACE_A, FACE_B)
    return Fit(pose=pose, sides=sides, channels=channels)


def _laid(outline: Outline, pose: Frame, turned_over: bool) -> Outline:
    """Return an outline of the piece in the model's frame, counter-clockwise again.

    Turned over, edge i of the result is edge n - 2 - i of the piece (cyclic).
    """
    points = tuple(_to_model(point, pose) for point in outline.points)
    if not turned_over:
        return Outline(points, outline.bulges)
    return Outline(points[::-1], (*reversed(outline.bulges[:-1]), outline.bulges[-1]))


def _to_model(point: Vec2, pose: Frame) -> Vec2:
    x, y, _ = pose.to_local((point[0], point[1], pose.origin[2]))
    return (x, y)


def _shift_between(model: Sequence[Outline], piece: Sequence[Outline]) -> int | None:
    """Return s such that point i of the model is point i + s of the piece on both faces."""
    count = len(model[0].points)
    if len(piece[0].points) != count:
        return None
    for shift in range(count):
        pairs = (
            (mine, theirs, i)
            for mine, theirs in zip(model, piece, strict=True)
            for i in range(count)
        )
        if all(_same_corner(mine, theirs, i, (i + shift) % count) for mine, theirs, i in pairs):
            return shift
    return None


def _same_corner(first: Outline, second: Outline, i: int, j: int) -> bool:
    a, b = first.points[i], second.points[j]
    return (
        abs(a[0] - b[0]) < SAME_POINT_MM
        and abs(a[1] - b[1]) < SAME_POINT_MM
        and abs(first.bulges[i] - second.bulges[j]) < SAME_POINT_MM
    )


def _match_channels(
    model: CutPiece, piece: CutPiece, pose: Frame, turned_over: bool
) -> tuple[int, ...] | None:
    """Return for every channel of the model which one of the piece it is, or None for others."""
    mine, theirs = model.slab.channels, piece.slab.channels
    if len(mine) != len(theirs):
        return None
    found: list[int] = []
    for channel in mine:
        same = (
            i
            for i, other in enumerate(theirs)
            if i not in found and _is_same_channel(channel, other, pose, turned_over)
        )
        match = next(same, None)
        if match is None:
            return None
        found.append(match)
    return tuple(found)


def _is_same_channel(mine: Channel, theirs: Channel, pose: Frame, turned_over: bool) -> bool:
    if (mine.in_b == theirs.in_b) == turned_over:
        return False
    if abs(mine.depth_mm - theirs.depth_mm) > SAME_POINT_MM:
        return False
    laid = [_to_model(point, pose) for point in theirs.outline.points]
    return all(
        any(math.dist(point, other) < SAME_POINT_MM for other in laid)
        for point in mine.outline.points
    )


def _same_openings(model: CutPiece, piece: CutPiece, pose: Frame) -> bool:
    if len(model.openings) != len(piece.openings):
        return False
    left = [(o.name, o.sizes_mm, o.along_x, _to_model(o.center, pose)) for o in piece.openings]
    for opening in model.openings:
        match = next((o for o in left if _same_opening(o, opening)), None)
        if match is None:
            return False
        left.remove(match)
    return True


def _same_opening(other: tuple[str, tuple[float, ...], bool, Vec2], opening: Opening) -> bool:
    name, sizes, along_x, center = other
    mine = (opening.name, len(opening.sizes_mm), opening.along_x)
    if mine != (name, len(sizes), along_x):
        return False
    numbers = (*opening.sizes_mm, *opening.center)
    return all(abs(a - b) < SAME_POINT_MM for a, b in zip(numbers, (*sizes, *center), strict=True))
