"""What goes onto the parts of a plan: edging, glue and finish."""

from generator.fitting.edging import find_edging
from generator.fitting.surfaces import find_finishes, find_glue
from generator.model.edition import Edition
from generator.model.fitting import Fitting
from generator.model.joinery import Joinery
from generator.model.parts import Parts


def plan_fitting(edition: Edition, parts: Parts, joinery: Joinery) -> Fitting:
    """Return what goes onto the parts, and how much of it."""
    return Fitting(
        edgings=find_edging(parts, edition.system),
        glue=find_glue(joinery),
        finishes=find_finishes(edition.finishes, parts, joinery),
    )
