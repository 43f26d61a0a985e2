"""Parts from boards: where the maker gives no width, it is the board's own."""

from collections.abc import Iterable
from dataclasses import replace

from generator.formula.parse import parse_formula
from generator.model.design import PartSource
from generator.model.edge_sources import BevelSource
from generator.model.edition import Stock
from generator.problems import ProblemLog


def fill_in_widths(
    parts: Iterable[PartSource], stocks: Iterable[Stock], log: ProblemLog
) -> tuple[PartSource, ...]:
    """Return the parts, those from boards with the board's width where nothing else says it.

    A part whose far edge is cut against something keeps no width: it is ripped to fit.
    """
    widths = {stock.name: stock.board.width_mm for stock in stocks if stock.board is not None}
    return tuple(_filled_in(part, widths.get(part.stock), log) for part in parts)


def _filled_in(part: PartSource, width_mm: float | None, log: ProblemLog) -> PartSource:
    far = dict(part.edges).get(part.runs[1])
    is_open = far is None or isinstance(far, BevelSource)
    if width_mm is None or part.width is not None or part.outline or not is_open:
        return part
    return replace(part, width=parse_formula(f"{width_mm:.6f} mm", part.stock_place, log))
