"""Thin wood at channels: two of them back to back (C131), or a thin strip beside one (C132)."""

import math
from collections.abc import Iterator

from shapely import union_all
from shapely.geometry import LineString

from generator.geometry.tolerance import CONTACT_AREA_MM2, SAME_POINT_MM
from generator.model.housing_words import housing_face
from generator.model.parts import FACE_A, Housing, Part
from generator.model.plan import Plan
from generator.problems import Note, Problem, make_problem
from generator.units import format_both

LEAST_SHARE = 0.25
"""Of the thickness that is left between two channels: common practice, no source."""

MOST_MISSING = 0.5
"""A strip is thin that lacks wood along more than this share of its length."""


def check_thin_wood_at_channels(plan: Plan) -> tuple[Problem, ...]:
    """Return a C131 for channels back to back and a C132 for thin strips beside channels."""
    problems: list[Problem] = []
    for part in plan.parts.parts:
        problems += _back_to_back(plan, part)
        problems += _beside(plan, part)
    return tuple(problems)


def _back_to_back(plan: Plan, part: Part) -> Iterator[Problem]:
    """Yield a C131 for two channels that leave less than `LEAST_SHARE` of the thickness."""
    needed = part.thickness_mm * LEAST_SHARE
    for i, second in enumerate(part.housings):
        for first in part.housings[:i]:
            left = part.thickness_mm - first.depth_mm - second.depth_mm
            shared = first.outline.polygon().intersection(second.outline.polygon())
            is_thin = first.side != second.side and left < needed - SAME_POINT_MM
            if is_thin and shared.area > CONTACT_AREA_MM2:
                yield make_problem(
                    "C131",
                    second.place,
                    first=_named(first),
                    second=_named(second),
                    piece=part.pieces[0].name,
                    left=format_both(max(left, 0.0), plan.edition.system),
                    needed=format_both(needed, plan.edition.system),
                    notes=[Note(text=f"{_named(first)} is told", place=first.place)],
                    hint="make both less deep, or move one of the mates aside",
                )


def _named(housing: Housing) -> str:
    return f"the {housing.kind} for `{housing.mates[0]}`"


def _beside(plan: Plan, part: Part) -> Iterator[Problem]:
    """Yield a C132 for every channel beside which a strip is thinner than the channel is deep."""
    for housing in part.housings:
        is_thin = any(_is_thin(part, housing, line) for line in _far_sides(part, housing))
        if is_thin:
            yield make_problem(
                "C132",
                housing.place,
                kind=housing.kind,
                mate=housing.mates[0],
                piece=part.pieces[0].name,
                face=housing_face(part, housing),
                needed=format_both(housing.depth_mm, plan.edition.system),
                hint="move the mate, until it is flush with the edge or further inside",
            )


def _far_sides(part: Part, housing: Housing) -> Iterator[LineString]:
    """Yield a line beside either long side of a channel, as far away as the channel is deep.

    A side that lies beyond an edge of the part has none: the channel is open there.
    """
    first, second, third, fourth = part.slab.channels[housing.channel].outline.points
    shown = housing.outline.polygon()
    away = housing.depth_mm - SAME_POINT_MM
    for start, end in ((first, second), (third, fourth)):
        if LineString([start, end]).distance(shown) > SAME_POINT_MM:
            continue
        length = math.dist(start, end)
        x, y = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        runs = [(px - start[0]) * x + (py - start[1]) * y for px, py in housing.outline.points]
        yield LineString(
            [
                (start[0] + x * run + y * away, start[1] + y * run - x * away)
                for run in (min(runs), max(runs))
            ]
        )


def _is_thin(part: Part, housing: Housing, line: LineString) -> bool:
    """Whether much of a line lies in no wood."""
    face = part.slab.face_a if housing.side == FACE_A else part.slab.face_b
    others = [
        one.outline.polygon()
        for one in part.housings
        if one.side == housing.side and one.channel != housing.channel
    ]
    wood = face.polygon().difference(union_all(others))
    return bool(line.difference(wood).length > MOST_MISSING * line.length)
