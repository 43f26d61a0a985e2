"""Along the thickness of one stock: how far a plan stays what it is, and in which pieces.

A range is halved until in each piece the wording is one and the sizes at its ends and at a place
between lie on straight lines. Sizes of a plan are convex or concave wherever they are not straight
(the lesser or the greater of two, a distance of two points), and such a line that meets its chord
once between its ends is the chord: so each piece is exact, up to the thousandth that texts carry.
Between two pieces lies one step, in which a choice changes; the nearer piece counts there.
"""

from collections.abc import Callable
from dataclasses import dataclass

from generator.pages.followed import split_text
from generator.thickness.sampling import Refusal, Sample

STEP_MM = 0.1
"""No calliper on wood is read finer, and no panel is more even."""

STRAIGHT_MM = 0.0015
"""Carried sizes are rounded to a thousandth: three of them miss a line by no more."""

Piece = tuple[int, int]
"""First and last point."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Along:
    """What was found along one stock, other stocks as planned.

    Attributes:
        points_mm: Thicknesses from the least to the greatest that is sold.
        pieces: In order; numbers of points.
        below: Why the first piece does not begin at the first point; "" where it does.
        above: Why the last does not end at the last.
    """

    points_mm: tuple[float, ...]
    pieces: tuple[Piece, ...]
    below: str
    above: str


class _Refused(Exception):  # noqa: N818  (it says where, and is caught right above)
    def __init__(self, point: int) -> None:
        self.point = point


def list_points(planned_mm: float, least_mm: float, most_mm: float) -> tuple[float, ...]:
    """Return thicknesses a step apart, the planned one among them, and both ends of the range."""
    below = int((planned_mm - least_mm) / STEP_MM - 0.2)
    above = int((most_mm - planned_mm) / STEP_MM - 0.2)
    steps = (round(planned_mm + STEP_MM * step, 6) for step in range(-below, above + 1))
    ends = [least_mm, *steps, most_mm]
    return tuple(dict.fromkeys(min(max(point, least_mm), most_mm) for point in ends))


def find_pieces(
    points_mm: tuple[float, ...],
    planned_mm: float,
    sample: Callable[[float], Sample | Refusal],
    check: Callable[[float], Refusal | None],
) -> Along:
    """Return the pieces around the planned thickness.

    Args:
        points_mm: Where the plan may be evaluated.
        planned_mm: One of them.
        sample: What the page says at a thickness.
        check: What forbids a plan whose page could be written.
    """
    start = points_mm.index(planned_mm)

    def refusal(point: int) -> Refusal | None:
        found = sample(points_mm[point])
        return found if isinstance(found, Refusal) else None

    def forbidden(point: int) -> Refusal | None:
        return refusal(point) or check(points_mm[point])

    def side(end: int) -> tuple[list[Piece], str]:
        why = ""
        while True:
            end, reason = _find_limit(start, end, forbidden)
            why = reason or why
            try:
                first, last = min(start, end), max(start, end)
                return _refine(points_mm, first, last, sample, near=start), why
            except _Refused as refused:
                end = refused.point

    low, below = side(0)
    high, above = side(len(points_mm) - 1)
    pieces = _merge([*low, *high], points_mm, sample)
    return Along(points_mm=points_mm, pieces=pieces, below=below, above=above)


def _find_limit(good: int, end: int, forbidden: Callable[[int], Refusal | None]) -> tuple[int, str]:
    """Return the point nearest to an end that nothing forbids, and what forbids the next one."""
    found = None if good == end else forbidden(end)
    if found is None:
        return end, ""
    why, bad = found.why, end
    while abs(bad - good) > 1:
        middle = (good + bad) // 2
        found = forbidden(middle)
        if found is None:
            good = middle
        else:
            why, bad = found.why, middle
    return good, why


def _refine(
    points_mm: tuple[float, ...],
    first: int,
    last: int,
    sample: Callable[[float], Sample | Refusal],
    near: int = -1,
) -> list[Piece]:
    """Return the pieces between two points; raise where a point between them has no page.

    Beside the planned thickness, ``near``, a choice often changes: it is looked there first.
    """
    ends = [_good(points_mm, point, sample) for point in (first, last)]
    if last - first <= 1:
        if _same_words(*ends):
            return [(first, last)]
        return [(first, first), (last, last)]
    middle = {first: first + 1, last: last - 1}.get(near, (first + last) // 2)
    between = _good(points_mm, middle, sample)
    share = (points_mm[middle] - points_mm[first]) / (points_mm[last] - points_mm[first])
    if _is_straight(ends[0], between, ends[1], share):
        return [(first, last)]
    return [
        *_refine(points_mm, first, middle, sample),
        *_refine(points_mm, middle, last, sample),
    ]


def _good(
    points_mm: tuple[float, ...], point: int, sample: Callable[[float], Sample | Refusal]
) -> Sample:
    found = sample(points_mm[point])
    if isinstance(found, Refusal):
        raise _Refused(point)
    return found


def _merge(
    pieces: list[Piece],
    points_mm: tuple[float, ...],
    sample: Callable[[float], Sample | Refusal],
) -> tuple[Piece, ...]:
    """Return pieces with those joined that share a point and go on as one straight line."""
    merged: list[Piece] = []
    for first, last in pieces:
        if merged and merged[-1][1] == first:
            before = merged[-1][0]
            if first in {before, last}:
                merged[-1] = (before, last)
                continue
            low, middle, high = (_good(points_mm, at, sample) for at in (before, first, last))
            whole = points_mm[last] - points_mm[before]
            share = (points_mm[first] - points_mm[before]) / whole
            if _is_straight(low, middle, high, share):
                merged[-1] = (before, last)
                continue
        merged.append((first, last))
    return tuple(merged)


def _same_words(one: Sample, other: Sample) -> bool:
    return all(
        old == new or split_text(old)[:2] == split_text(new)[:2]
        for old, new in zip(one.texts, other.texts, strict=True)
    )


def _is_straight(first: Sample, between: Sample, last: Sample, share: float) -> bool:
    """Whether three pages say the same and every size of the second lies on its chord."""
    for texts in zip(first.texts, between.texts, last.texts, strict=True):
        if texts[0] == texts[1] == texts[2]:
            continue
        split = [split_text(text) for text in texts]
        if not split[0][:2] == split[1][:2] == split[2][:2]:
            return False
        for low, middle, high in zip(*(values for _, _, values in split), strict=True):
            if abs(low + (high - low) * share - middle) > STRAIGHT_MM:
                return False
    return True
