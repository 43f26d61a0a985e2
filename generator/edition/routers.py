"""The router that sheets are laid for: its bit, how far apart outlines stay, and the border."""

from generator.edition.scope import Scope
from generator.model.design import RouterSource
from generator.model.phrases import ByEdition
from generator.model.workshop import RouterWork
from generator.problems import ProblemLog
from generator.units import MM_PER_INCH, System, format_both

BIT_MM: dict[System, float] = {"metric": 6.0, "imperial": float(MM_PER_INCH / 4)}
"""Diameter of a straight bit for panels: 6 mm or 1/4 in. Common practice, no source."""

THICKEST_MM = 50.0
"""No router takes a thicker bit, and no one leaves a wider border. Common practice, no source."""


def evaluate_router(source: RouterSource | None, scope: Scope, log: ProblemLog) -> RouterWork:
    """Return the router of the design, or the usual one where the design says nothing.

    A size that is none, or outlines nearer to each other than the bit is thick, is an E101.
    """
    usual = BIT_MM[scope.system]
    if source is None:
        return RouterWork(bit_mm=usual, apart_mm=usual, border_mm=0.0)
    bit_mm = _size(source.bit, "a bit is", (1.0, THICKEST_MM), usual, scope, log)
    limits = (bit_mm, bit_mm + THICKEST_MM)
    apart_mm = _size(source.apart, "outlines are apart", limits, bit_mm, scope, log)
    border_mm = _size(source.border, "a border is", (0.0, 4 * THICKEST_MM), 0.0, scope, log)
    return RouterWork(bit_mm=bit_mm, apart_mm=apart_mm, border_mm=border_mm)


def _size(
    source: ByEdition,
    what: str,
    limits: tuple[float, float],
    usual: float,
    scope: Scope,
    log: ProblemLog,
) -> float:
    """Return a size in mm, the usual one where nothing or nonsense is said; E101 for nonsense."""
    formula = source.of(scope.system)
    value = None if formula is None else scope.length(formula, log)
    if formula is None or value is None:
        return usual
    if limits[0] <= value <= limits[1]:
        return value
    low, high = (format_both(one, scope.system) for one in limits)
    shown = format_both(value, scope.system)
    limit = f"{what} {low} at least and {high} at most"
    log.add("E101", formula.place, name=formula.text, value=shown, limit=limit)
    return usual
