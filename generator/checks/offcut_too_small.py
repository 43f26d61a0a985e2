"""An offcut too small for any part: the maker's own, and no use for this design (C203)."""

from generator.model.catalogue import SheetSize
from generator.model.cutting import Blank
from generator.model.edition import Stock
from generator.model.parts import Part
from generator.model.plan import Plan
from generator.model.workshop import OwnOffcut
from generator.problems import Note, Problem, make_problem
from generator.units import format_both

Lying = tuple[float, float]
"""How far a blank reaches along the sheet or board, and across it."""


def check_offcut_too_small(plan: Plan) -> tuple[Problem, ...]:
    """Return a C203 for every offcut of the maker's own that no blank of its stock fits on."""
    found = []
    for offcut in plan.edition.offcuts:
        ways = [
            way
            for part in plan.parts.parts
            if part.stock.name == offcut.stock
            for way in _ways(part, plan.cutting.blanks)
        ]
        stock = next(one for one in plan.edition.stocks if one.name == offcut.stock)
        room = _room(offcut.size, stock, plan)
        if ways and not any(_fits(way, room) for way in ways):
            found.append(_problem(offcut, room, ways, plan))
    return tuple(found)


def _ways(part: Part, blanks: tuple[Blank, ...]) -> list[Lying]:
    blank = next(one for one in blanks if one.label == part.label)
    ways = [(blank.length_mm, blank.width_mm)]
    if part.stock.board is None and (part.grain != "along" or not part.stock.has_grain):
        ways.append((blank.width_mm, blank.length_mm))
    return ways


def _room(size: SheetSize, stock: Stock, plan: Plan) -> Lying:
    """Return what trimming leaves of an offcut; a trim is never less than the kerf."""
    goods = stock.goods
    trim = max(goods.trim_mm, plan.edition.saw.kerf_mm or 0.0) if goods.trim_mm > 0 else 0.0
    across = 0.0 if stock.board is not None else trim
    return (size.length_mm - 2 * trim, size.width_mm - 2 * across)


def _fits(way: Lying, room: Lying) -> bool:
    return way[0] <= room[0] and way[1] <= room[1]


def _problem(offcut: OwnOffcut, room: Lying, ways: list[Lying], plan: Plan) -> Problem:
    system = plan.edition.system
    least = min(ways, key=lambda way: max(way[0] - room[0], way[1] - room[1]))
    along, across = (format_both(max(0.0, value), system) for value in room)
    needs = " by ".join(format_both(value, system) for value in least)
    return make_problem(
        "C203",
        offcut.place,
        notes=[
            Note(text=f"trimmed it gives {along} along the grain and {across} across it"),
            Note(text=f"the part that comes nearest to fitting needs {needs}"),
        ],
        hint="take it out of `offcuts`, or accept this if it waits for another size",
        offcut=offcut.size.name,
        stock=offcut.stock,
    )
