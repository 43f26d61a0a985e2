"""What pieces carry in one edition, and how far they may sag under it."""

from fractions import Fraction
from typing import Final

from generator.edition.placing import Placed
from generator.formula.tree import Formula
from generator.model.strength import MOST_SAG, Load, LoadSource
from generator.problems import ProblemLog

MOST_KG: Final = 5000
"""More than any piece of furniture carries; a slip of the finger is found by it."""

LEAST_SAG: Final = Fraction(1, 2000)
"""Nobody sees less than half a millimetre in a metre."""

MM_PER_M: Final = 1000


def evaluate_load(piece: Placed, log: ProblemLog) -> Load | None:
    """Return what a piece carries; None where it carries nothing or a problem was reported."""
    imperial, metric = piece.source.carries
    source = imperial if piece.scope.system == "imperial" else metric
    if source is None:
        return None
    mass = piece.scope.quantity(source.mass, log, "mass")
    most = _most_sag(piece, piece.source.sag, log)
    if mass is None or most is None:
        return None
    kilograms = float(mass)
    if not 0 < kilograms <= MOST_KG:
        log.add(
            "E101",
            source.place,
            name=source.mass.text,
            value=f"{kilograms:.4g} kg",
            limit=f"a load is more than 0 and at most {MOST_KG} kg",
        )
        return None
    return Load(
        mass_kg=kilograms * _units_in_a_metre(source),
        per=source.per,
        on_spot=source.on_spot,
        most_sag=most,
        place=source.place,
    )


def _units_in_a_metre(source: LoadSource) -> float:
    if not source.per:
        return 1.0
    return float((MM_PER_M / source.unit_mm) ** (2 if source.per == "sq m" else 1))


def _most_sag(piece: Placed, formula: Formula | None, log: ProblemLog) -> Fraction | None:
    """Return the most sag as a share of the span; E101 where it is more than the usual one."""
    if formula is None:
        return MOST_SAG
    share = piece.scope.quantity(formula, log, "number")
    if share is None:
        return None
    value = Fraction(share.value)
    if not LEAST_SAG <= value <= MOST_SAG:
        log.add(
            "E101",
            formula.place,
            name=formula.text,
            value=f"{float(value):.4g}",
            limit=f"the most sag is from {LEAST_SAG} to {MOST_SAG} of the span",
        )
        return None
    return value
