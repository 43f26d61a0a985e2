"""The names formulas may use in one edition, with their values."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from generator.formula.evaluate import evaluate_formula
from generator.formula.tree import Formula
from generator.problems import Place, ProblemLog
from generator.units import Kind, Quantity, System, format_both


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """Values by name, and the names that have none because a problem was reported already.

    Attributes:
        system: The edition.
        values: Parameters, stocks (their thickness) and the variable of an ``each``.
        broken: Names that are silent: what is wrong with them has been said.
        defined: Where each name is defined, for hints.
    """

    system: System
    values: Mapping[str, Quantity]
    broken: frozenset[str]
    defined: Mapping[str, Place]

    def with_number(self, name: str, value: int, place: Place) -> "Scope":
        """Return the scope with the variable of an ``each``."""
        return Scope(
            system=self.system,
            values={**self.values, name: Quantity("number", Fraction(value))},
            broken=self.broken,
            defined={**self.defined, name: place},
        )

    def quantity(
        self, formula: Formula, log: ProblemLog, needed: Kind | None = None
    ) -> Quantity | None:
        """Return the value of a formula, None where a problem was or is reported."""
        return evaluate_formula(
            formula,
            self.values,
            log,
            needed=needed,
            broken=self.broken,
            defined=self.defined,
        )

    def length(self, formula: Formula, log: ProblemLog) -> float | None:
        """Return a length in mm."""
        return self._number(formula, "length", log)

    def angle(self, formula: Formula, log: ProblemLog) -> float | None:
        """Return an angle in degrees."""
        return self._number(formula, "angle", log)

    def whole(self, formula: Formula, log: ProblemLog, expected: str) -> int | None:
        """Return a whole number; E114 where the value has a remainder."""
        value = self._number(formula, "number", log)
        if value is None:
            return None
        if abs(value - round(value)) > 1e-9:
            log.add("E114", formula.place, text=formula.text, value=f"{value:g}", expected=expected)
            return None
        return round(value)

    def holds(self, formula: Formula | None, log: ProblemLog) -> bool:
        """Return whether a condition is true; it is where there is none, or where it is at fault.

        What has a faulty condition counts as there, so that its other faults are told too.
        """
        quantity = None if formula is None else self.quantity(formula, log, "truth")
        return quantity is None or bool(float(quantity))

    def positive_length(self, formula: Formula, log: ProblemLog) -> float | None:
        """Return a length of more than zero; E109 where it is not."""
        value = self.length(formula, log)
        if value is not None and value <= 0:
            shown = format_both(value, self.system)
            log.add("E109", formula.place, text=formula.text, value=shown)
            return None
        return value

    def point(
        self, formulas: tuple[Formula, Formula, Formula] | None, log: ProblemLog
    ) -> tuple[float, float, float] | None:
        """Return three lengths in mm; the origin where none are given."""
        if formulas is None:
            return (0.0, 0.0, 0.0)
        values = [self.length(formula, log) for formula in formulas]
        if values[0] is None or values[1] is None or values[2] is None:
            return None
        return (values[0], values[1], values[2])

    def _number(self, formula: Formula, kind: Kind, log: ProblemLog) -> float | None:
        quantity = self.quantity(formula, log, kind)
        return None if quantity is None else float(quantity)
