"""How large a flat piece the maker's car takes, so that the shop can cut sheets to fit it."""

from generator.edition.scope import Scope
from generator.model.design import CarSource
from generator.model.phrases import ByEdition
from generator.model.workshop import Car
from generator.problems import ProblemLog
from generator.units import MM_PER_INCH, System, format_both

LEAST_MM: dict[System, float] = {"metric": 300.0, "imperial": float(12 * MM_PER_INCH)}
"""Nobody takes a sheet home in smaller pieces than 300 mm or 12 in. Common practice, no source."""


def evaluate_car(source: CarSource | None, scope: Scope, log: ProblemLog) -> Car | None:
    """Return what the car takes, the longer way first; None where nothing or nonsense is said."""
    if source is None:
        return None
    sizes = [_size(one, scope, log) for one in (source.length, source.width)]
    if sizes[0] is None or sizes[1] is None:
        return None
    long, wide = max(sizes[0], sizes[1]), min(sizes[0], sizes[1])
    return Car(name="the maker's car", length_mm=long, width_mm=wide)


def _size(source: ByEdition, scope: Scope, log: ProblemLog) -> float | None:
    """Return a size; E101 where it is less than any car takes."""
    formula = source.of(scope.system)
    value = None if formula is None else scope.length(formula, log)
    least = LEAST_MM[scope.system]
    if formula is None or value is None or value >= least:
        return value
    shown = format_both(value, scope.system)
    limit = f"a car takes pieces of {format_both(least, scope.system)} at least"
    log.add("E101", formula.place, name=formula.text, value=shown, limit=limit)
    return None
