"""A shelf that sags too far (C601), or of which that cannot be said (C602)."""

import math

from generator.model.plan import Plan
from generator.model.strength import Sag
from generator.model.words import load_words
from generator.problems import Note, Problem, make_problem
from generator.units import format_both, format_mass


def check_sags(plan: Plan) -> tuple[Problem, ...]:
    """Return a C601 or C602 for every part that does not carry what it should, or may not."""
    problems = [_too_far(plan, sag) for sag in plan.strength.sags if sag.share > 1]
    problems += [
        make_problem(
            "C602",
            one.place,
            piece=one.piece,
            why=one.why,
            hint="let it lie on, or fix it to, pieces that reach across under both its ends",
        )
        for one in plan.strength.unjudged
    ]
    return tuple(problems)


def _too_far(plan: Plan, sag: Sag) -> Problem:
    system = plan.edition.system
    years = "" if sag.load.on_spot else ", after years,"
    strips = f", with the strips `{'`, `'.join(sag.strips)}`" if sag.strips else ""
    return make_problem(
        "C601",
        sag.load.place,
        piece=sag.piece,
        sag=format_both(sag.sag_mm, system),
        years=years,
        load=load_words(sag.load, system),
        span=_span_words(sag, format_both(sag.span_mm, system)),
        allowed=format_both(sag.allowed_mm, system),
        notes=[
            Note(
                text=f"{format_mass(sag.load_kg, system)} on that span, its own weight included, "
                f"the board {format_both(sag.thickness_mm, system)} thick{strips}"
            )
        ],
        hint=_hint(plan, sag),
    )


def _span_words(sag: Sag, span: str) -> str:
    if sag.ends == "both ends":
        return f"{span} between its supports"
    return f"{span} out over its last support"


def _hint(plan: Plan, sag: Sag) -> str:
    """Return what would do: the sag goes with the cube of the thickness, and of the span.

    What is allowed goes with the span, and so does a load that is told by length or area.
    """
    system = plan.edition.system
    thick_mm = sag.thickness_mm * sag.share ** (1 / 3)
    span_mm = sag.span_mm / sag.share ** (1 / 3 if sag.load.per else 1 / 2)
    thick = format_both(math.ceil(thick_mm * 10) / 10, system)
    span = format_both(math.floor(span_mm * 10) / 10, system)
    what = f"make it at least {thick} thick, or let it span at most {span}"
    if sag.ends == "one end" or sag.strips:
        return what
    return f"{what}, or fix a strip on edge under it along each of its long sides"
