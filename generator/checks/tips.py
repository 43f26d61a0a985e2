"""A piece that tips: by itself (C603), by a small push (C604), or by who stands on it (C605).

Only what stands freely is judged: a piece that the design says is fixed to a wall, or hung on one,
is as safe as its anchors. Nothing here is a certificate.
"""

from typing import Final

from generator.model.plan import Plan
from generator.model.strength import Step, Tipping
from generator.model.words import load_words
from generator.problems import Problem, make_problem
from generator.units import MM_PER_INCH, format_angle, format_both, format_force

HIGH_MM: Final = float(27 * MM_PER_INCH)
"""Lower pieces are not judged by push and slope.

Source of both limits: ASTM F2057-23, 1.1, the scope of its tests of clothing storage units.
"""

HEAVY_KG: Final = 13.6
"""30 lb; lighter pieces are not judged by push and slope, for the same reason."""

PUSH_N: Final = 20.0
"""About 4 1/2 lbf: somebody who brushes past pushes no less; our judgement."""

TILT_DEG: Final = 10.0
"""A piece that falls on a slope of less than this stands badly on carpet; our judgement."""

ANCHOR: Final = "fix it to the wall with hardware that says `wall: yes`"


def check_tips(plan: Plan) -> tuple[Problem, ...]:
    """Return what tips a piece that stands freely."""
    tipping = plan.strength.tipping
    if tipping is None or plan.strength.stands != "freely":
        return ()
    steps = [_step(plan, step) for step in plan.strength.steps if not step.is_safe]
    if tipping.inside_mm <= 0:
        return (_by_itself(plan, tipping),)
    return (*_easily(plan, tipping), *steps)


def _by_itself(plan: Plan, tipping: Tipping) -> Problem:
    return make_problem(
        "C603",
        plan.edition.story.stands_place,
        way=tipping.way,
        by=format_both(-tipping.inside_mm, plan.edition.system),
        hint="make its base deeper; if it is on a wall, say `stands: hung` or `stands: fixed`",
    )


def _easily(plan: Plan, tipping: Tipping) -> list[Problem]:
    system = plan.edition.system
    is_large = tipping.push_at_mm >= HIGH_MM and plan.parts.mass_kg >= HEAVY_KG
    if not is_large or (tipping.push_n >= PUSH_N and tipping.tilt_deg >= TILT_DEG):
        return []
    return [
        make_problem(
            "C604",
            plan.edition.story.stands_place,
            way=tipping.way,
            push=format_force(tipping.push_n, system),
            height=format_both(tipping.push_at_mm, system),
            tilt=format_angle(tipping.tilt_deg),
            least=format_force(PUSH_N, system),
            least_tilt=format_angle(TILT_DEG),
            hint=f"make its base deeper, or {ANCHOR}",
        )
    ]


def _step(plan: Plan, step: Step) -> Problem:
    system = plan.edition.system
    return make_problem(
        "C605",
        step.load.place,
        load=load_words(step.load, system),
        piece=step.piece,
        way=step.way,
        beyond=format_both(step.beyond_mm, system),
        most=format_both(max(step.needed_mm, 0.0), system),
        hint=f"let the base reach further to the {step.way}, or {ANCHOR}",
    )
