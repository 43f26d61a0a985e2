"""What was written for one edition of a plan: its pictures and files, for the pages to show."""

from dataclasses import dataclass
from typing import Final

from generator.units import System

EVERYTHING: Final = "everything.zip"
"""The file that holds all the others of an edition."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """One drawing.

    Attributes:
        path: From the plan's folder, such as ``drawings/metric/assembled.svg``.
        title: Short.
        alt: What it shows, in a sentence.
        width_px: As wide as it asks to be.
        height_px: The same for its height.
    """

    path: str
    title: str
    alt: str
    width_px: int
    height_px: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Download:
    """One file to take away.

    Attributes:
        path: From the plan's folder, such as ``files/metric/plan.json``.
        title: What it is, in words.
        size_bytes: As written.
    """

    path: str
    title: str
    size_bytes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Artifacts:
    """All drawings and files of one edition.

    Attributes:
        assembled: The whole piece with letters.
        finished: The whole piece without letters, for where it is shown small.
        parts: For every label, in the order of the parts, the sheets of its drawing.
        layouts: One for every sheet, in order.
        boards: All boards, a few on each.
        steps: One for every step, in order.
        settings: For every picture of a saw setting the numbers of the settings it is for.
        router: One for every sheet laid for a router, in order.
        downloads: In the order they are listed in.
        solid: Path of the script that holds the piece as solids, for a page to load; or "".
        card: Path of the picture shown where somebody sends a link to the plan; or "".
    """

    system: System
    assembled: Picture
    finished: Picture
    exploded: Picture
    three_views: Picture
    parts: tuple[tuple[str, tuple[Picture, ...]], ...]
    layouts: tuple[Picture, ...]
    steps: tuple[Picture, ...]
    downloads: tuple[Download, ...]
    boards: tuple[Picture, ...] = ()
    settings: tuple[tuple[tuple[int, ...], Picture], ...] = ()
    router: tuple[Picture, ...] = ()
    solid: str = ""
    card: str = ""

    def pictures(self) -> tuple[Picture, ...]:
        """Return all drawings."""
        sheets = tuple(picture for _, pictures in self.parts for picture in pictures)
        return (
            *(self.assembled, self.finished, self.exploded, self.three_views),
            *(*sheets, *self.layouts, *self.boards),
            *(picture for _, picture in self.settings),
            *(*self.router, *self.steps),
        )

    def paths(self) -> tuple[str, ...]:
        """Return the paths of all drawings and files."""
        pictures = tuple(picture.path for picture in self.pictures())
        others = tuple(path for path in (self.solid, self.card) if path)
        return (*pictures, *others, *(download.path for download in self.downloads))
