"""What the page of a plan says where the panels measure otherwise than the plan was drawn for.

Every text that changes is told as wording and sizes. Along the thickness of each stock the range
falls into pieces; within a piece the wording stays and every size is a straight line.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """A text without its sizes.

    Attributes:
        parts: What stands before, between and after the sizes.
        kinds: For each size ``s``, a size alone, or ``l``, one with its unit.
    """

    parts: tuple[str, ...]
    kinds: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What a text is along one piece.

    Attributes:
        wording: With as many sizes as there are values.
        start_mm: The sizes where the piece begins.
        slopes: By how much each grows for every mm of thickness.
    """

    wording: Wording
    start_mm: tuple[float, ...]
    slopes: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FollowedText:
    """One text of the page that changes.

    Attributes:
        number: Of the text among all texts of the page.
        wording: In the plan.
        values_mm: The same.
        kept: What its wordings leave out because it stays as planned, such as masses.
        along: For every stock and every piece of it what the text is; None where it is as planned.
    """

    number: int
    wording: Wording
    values_mm: tuple[float, ...]
    along: tuple[tuple[Change | None, ...], ...]
    kept: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredStock:
    """One stock of sheets and the thicknesses the page can follow.

    Attributes:
        key: Of the sheet in the catalogue.
        title: Its name.
        planned_mm: The thickness the plan was drawn for.
        least_mm: Below it the page says no.
        most_mm: Above it the same.
        source: For the least and greatest thickness such sheets are sold with.
        pieces: First and last thickness of each; between two the nearer one counts.
        below: Why not less, in words; "" where no such sheet is sold thinner.
        above: Why not more.
    """

    key: str
    title: str
    planned_mm: float
    least_mm: float
    most_mm: float
    source: str
    pieces: tuple[tuple[float, float], ...]
    below: str
    above: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """All that can be followed on one page.

    Attributes:
        stocks: The stocks that can; none where nothing can be followed.
        alone: Whether only one of them may differ from the plan at a time.
        refused: Why nothing can be followed; "" where something can.
    """

    stocks: tuple[MeasuredStock, ...] = ()
    texts: tuple[FollowedText, ...] = ()
    alone: bool = False
    refused: str = ""
