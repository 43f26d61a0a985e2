"""What goes onto the parts of a plan: edging, glue, hardware and finish."""

from generator.fitting.edging import find_edging
from generator.fitting.hardware import mount_hardware
from generator.fitting.surfaces import find_finishes, find_glue
from generator.model.edition import Edition
from generator.model.fitting import Fitting
from generator.model.joinery import Joinery
from generator.model.parts import Parts
from generator.problems import Problem, ProblemLog


def plan_fitting(
    edition: Edition, parts: Parts, joinery: Joinery
) -> tuple[Fitting | None, tuple[Problem, ...]]:
    """Return what goes onto the parts, and how much of it; None with the problems against it."""
    log = ProblemLog()
    mounted = mount_hardware(edition.hardware, parts, edition.system, log)
    if log.has_errors:
        return None, tuple(log.problems)
    return Fitting(
        edgings=find_edging(parts, edition.system),
        glue=find_glue(joinery),
        finishes=find_finishes(edition.finishes, parts, joinery),
        mounted=mounted,
    ), ()
