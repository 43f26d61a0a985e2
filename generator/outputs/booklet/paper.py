"""The paper of a booklet: Letter for inches, A4 for millimetres; and the room on it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from generator.outputs.booklet.items import Room
from generator.units import System

HEADINGS_MM: Final = 24.0
"""Room for two headings above a drawing, and for its caption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet of paper with its margins; ANSI Y14.1 A (Letter), ISO 216 (A4)."""

    name: str
    width_mm: float
    height_mm: float
    side_mm: float = 15.0
    top_mm: float = 20.0
    foot_mm: float = 16.0

    @property
    def room(self) -> Room:
        """The room for one drawing below its headings."""
        return Room(
            width_mm=self.width_mm - 2 * self.side_mm,
            height_mm=self.height_mm - self.top_mm - self.foot_mm - HEADINGS_MM,
        )

    def told(self) -> Mapping[str, float]:
        """Return its sizes, as a template reads them."""
        return {
            "width_mm": self.width_mm,
            "height_mm": self.height_mm,
            "side_mm": self.side_mm,
            "top_mm": self.top_mm,
            "foot_mm": self.foot_mm,
        }


PAPERS: Final[Mapping[System, Paper]] = {
    "imperial": Paper(name="letter", width_mm=215.9, height_mm=279.4),
    "metric": Paper(name="a4", width_mm=210.0, height_mm=297.0),
}
