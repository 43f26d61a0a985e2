"""Two settings nobody can tell apart: blanks of two parts read alike and are sawn apart (C202).

A fence is set by a tape or rule; whoever sets it twice to the same mark has two sizes by chance.
"""

import itertools
from collections.abc import Iterator

from generator.geometry.tolerance import SAME_POINT_MM
from generator.model.cutting import Blank
from generator.model.plan import Plan
from generator.problems import Problem, make_problem
from generator.units import TAPE_STEP_MM, format_length, format_remainder

Sawn = tuple[Blank, str, float]
"""A blank, the word for one of its sizes, and that size in mm."""


def check_settings_too_alike(plan: Plan) -> tuple[Problem, ...]:
    """Return a C202, at the later part, for every two that need two settings within one mark."""
    sizes: dict[tuple[str, float], Sawn] = {}
    for setting in plan.cutting.settings:
        if setting.kind in {"rip", "crosscut"}:
            sawn = next(_sawn_so(plan, setting.value_mm, setting.pieces), None)
            if sawn is not None:
                sizes.setdefault((setting.kind, setting.value_mm), sawn)
    return tuple(
        _problem(plan, sizes[one], sizes[other])
        for one, other in itertools.combinations(sorted(sizes), 2)
        if one[0] == other[0] and _read_alike(plan, one[1], other[1])
    )


def _sawn_so(plan: Plan, value_mm: float, labels: tuple[str, ...]) -> Iterator[Sawn]:
    """Yield the blanks that are as long or as wide as a setting; a strip for several is none."""
    for blank in plan.cutting.blanks:
        if blank.label in labels:
            for word, size_mm in (("long", blank.length_mm), ("wide", blank.width_mm)):
                if abs(size_mm - value_mm) <= SAME_POINT_MM:
                    yield blank, word, size_mm


def _read_alike(plan: Plan, one_mm: float, other_mm: float) -> bool:
    step_mm = TAPE_STEP_MM[plan.edition.system]
    return round(one_mm / step_mm) == round(other_mm / step_mm)


def _problem(plan: Plan, one: Sawn, other: Sawn) -> Problem:
    system = plan.edition.system
    labels = [part.label for part in plan.parts.parts]
    one, other = sorted((one, other), key=lambda sawn: labels.index(sawn[0].label))
    first, second = (plan.parts.part(blank.label) for blank, _, _ in (one, other))
    return make_problem(
        "C202",
        second.place,
        part=second.name,
        size=f"{format_length(other[2], system)} {other[1]}",
        other=first.name,
        other_size=f"{format_length(one[2], system)} {one[1]}",
        apart=format_remainder(abs(other[2] - one[2]), system),
        hint="give both the same size by one formula and a setting is saved; where they must "
        "differ, accept the warning and say why",
    )
