"""The small sentences of a design as read: texts, values by edition, ranges and turns."""

from dataclasses import dataclass

from generator.formula.tree import Formula
from generator.model.edition import Direction
from generator.problems import Place
from generator.units import System


@dataclass(frozen=True, slots=True, kw_only=True)
class Prose:
    """A text in which ``{formula}`` stands for a number in the reader's units.

    Attributes:
        pieces: Plain text and formulas in turn.
    """

    pieces: tuple[str | Formula, ...]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class ByEdition:
    """Something told for both editions at once or for each."""

    imperial: Formula | None
    metric: Formula | None

    def of(self, system: System) -> Formula | None:
        """Return what counts in an edition."""
        return self.imperial if system == "imperial" else self.metric


@dataclass(frozen=True, slots=True, kw_only=True)
class Each:
    """``tray in 1..trays``."""

    variable: str
    first: Formula
    last: Formula
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """``lean about right``: right-handed about a direction of the frame as turned so far."""

    angle: Formula
    about: Direction
