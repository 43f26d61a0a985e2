"""Blanks: the rectangles sawn from sheets and boards, and parts that neither can give."""

import math

from generator.cutting.trees import ticks
from generator.geometry.tolerance import SAME_POINT_MM
from generator.model.catalogue import Board, Sheet
from generator.model.cutting import Blank
from generator.model.parts import Edge, Part
from generator.problems import Note, Problem, ProblemLog
from generator.units import MM_PER_INCH, TAPE_STEP_MM, System, format_both, format_length

ALLOWANCE_MM: dict[System, float] = {"metric": 6.0, "imperial": float(MM_PER_INCH / 4)}
"""Left at a side that is bevelled later: 6 mm or 1/4 in. Common practice, no source."""

MOST_COPIES = 500
MOST_COPIES_IN_ALL = 2000


def make_blank(part: Part, system: System) -> Blank:
    """Return the blank of a part: finished size, and more wherever a bevel follows.

    A blank with an allowance is as large as the next whole mark, so that it is quickly set.
    """
    allowance = [0.0, 0.0, 0.0, 0.0]
    for axis, finished in enumerate((part.length_mm, part.width_mm)):
        sides = list(dict.fromkeys(find_side(edge) for edge in find_bevels(part, axis)))
        for side in sides:
            allowance[side] = ALLOWANCE_MM[system]
        if sides:
            allowance[sides[-1]] += _to_next_mark(finished, TAPE_STEP_MM[system])
    left, right, bottom, top = allowance
    bottom, top = _within_board(part, bottom, top)
    return Blank(
        label=part.label,
        count=part.count,
        length_mm=part.length_mm + left + right,
        width_mm=part.width_mm + bottom + top,
        allowance_mm=(left, right, bottom, top),
    )


def _within_board(part: Part, bottom: float, top: float) -> tuple[float, float]:
    """Return the allowances across: a board has no more than its width, and its edges are planed.

    A bevel along an edge of a full board is sawn off that edge itself.
    """
    board = part.stock.board
    if board is None:
        return bottom, top
    spare = max(0.0, board.width_mm - part.width_mm)
    return min(bottom, spare), min(top, max(0.0, spare - bottom))


def find_bevels(part: Part, axis: int) -> list[Edge]:
    """Return the bevelled edges across the length (0) or the width (1) as they are sawn.

    The steeper comes first, so that bevels sorted by tilt keep this order.
    """
    edges = [edge for edge in part.edges if is_bevel(edge) and find_side(edge) // 2 == axis]
    return sorted(edges, key=lambda edge: -round(edge.tilt_deg, 1))


def is_bevel(edge: Edge) -> bool:
    """Whether an edge of the outline (no worked corner) is sawn with a tilted blade."""
    return edge.is_plain and edge.tilt_deg > 0


def find_side(edge: Edge) -> int:
    """Return which side of the part an edge is: 0 x-, 1 x+, 2 y-, 3 y+."""
    x, y, _ = edge.plane.normal
    if abs(x) >= abs(y):
        return 1 if x > 0 else 0
    return 3 if y > 0 else 2


def may_turn(part: Part) -> bool:
    """Whether the length of a part may lie across the sheet."""
    return part.grain != "along" or not part.stock.has_grain


def trim_of(goods: Sheet | Board, kerf_mm: float) -> float:
    """Return what is taken off every edge of a sheet, or off both ends of a board.

    A trim is never less than the kerf: a blade with wood on one side only wanders (common
    practice, no source).
    """
    return max(goods.trim_mm, kerf_mm) if goods.trim_mm > 0 else 0.0


def _to_next_mark(value_mm: float, step_mm: float) -> float:
    marks = value_mm / step_mm
    if abs(marks - round(marks)) * step_mm <= SAME_POINT_MM:
        return 0.0
    return (math.ceil(marks) - marks) * step_mm


def check_counts(parts: tuple[Part, ...]) -> tuple[Problem, ...]:
    """Return a problem for every part with too many copies, or one for all of them."""
    log = ProblemLog()
    for part in parts:
        if part.count > MOST_COPIES:
            log.add("N102", part.place, part=part.name, count=part.count, limit=MOST_COPIES)
    total = sum(part.count for part in parts)
    if not log.problems and total > MOST_COPIES_IN_ALL:
        log.add("N102", parts[0].place, part="the whole", count=total, limit=MOST_COPIES_IN_ALL)
    return tuple(log.problems)


def check_size(part: Part, blank: Blank, kerf_mm: float, system: System) -> tuple[Problem, ...]:
    """Return a problem if no size of the part's sheet or board holds its blank."""
    if part.stock.board is not None:
        return _check_board(part, part.stock.board, blank, kerf_mm, system)
    sheet = part.stock.goods
    trim = trim_of(sheet, kerf_mm)
    there = [size for size in sheet.sizes if size.at_most != 0]
    sizes = [(s.length_mm - 2 * trim, s.width_mm - 2 * trim) for s in there]
    ways = [(blank.length_mm, blank.width_mm)]
    if may_turn(part):
        ways.append((blank.width_mm, blank.length_mm))
    if any(_fits(way, size) for way in ways for size in sizes):
        return ()
    way, size = min(((way, size) for way in ways for size in sizes), key=lambda pair: _over(*pair))
    log = ProblemLog()
    log.add(
        "N101",
        part.place,
        notes=[
            *_excess_notes(way, size, trim, blank, system),
            *_none_left_notes(part, [(w[0] + 2 * trim, w[1] + 2 * trim) for w in ways]),
        ],
        hint=_find_hint(part, blank, sizes, _over(way, size), system),
        part=part.name,
        size=_format_pair(blank.length_mm, blank.width_mm, system),
        sheet=sheet.key,
    )
    return tuple(log.problems)


def _check_board(
    part: Part, board: Board, blank: Blank, kerf_mm: float, system: System
) -> tuple[Problem, ...]:
    trim = trim_of(board, kerf_mm)
    longest = max(size.length_mm for size in board.sizes if size.at_most != 0)
    notes = []
    for words, needs, offers, source in (
        ("long", blank.length_mm, longest - 2 * trim, f", its longest less two trims of "
         f"{format_length(trim, system)}"),
        ("wide", blank.width_mm, board.width_mm, ""),
    ):  # fmt: skip
        if ticks(needs) > ticks(offers):
            over = format_both(needs - offers, system)
            text = f"the part needs {format_both(needs, system)}; the board is "
            text += f"{format_both(offers, system)} {words}{source}: {over} too little"
            notes.append(Note(text=text))
    if not notes:
        return ()
    notes += _none_left_notes(part, [(blank.length_mm + 2 * trim, blank.width_mm)])
    log = ProblemLog()
    size = _format_pair(blank.length_mm, blank.width_mm, system)
    hint = "make it smaller, or take a wider board for it; two boards can be joined"
    log.add("N103", part.place, notes=notes, hint=hint, part=part.name, size=size, board=board.key)
    return tuple(log.problems)


def _fits(way: tuple[float, float], size: tuple[float, float]) -> bool:
    return ticks(way[0]) <= ticks(size[0]) and ticks(way[1]) <= ticks(size[1])


def _over(way: tuple[float, float], size: tuple[float, float]) -> float:
    """Return by how much a blank is too large for a trimmed sheet, in the worse direction."""
    return max(way[0] - size[0], way[1] - size[1])


def _excess_notes(
    way: tuple[float, float],
    size: tuple[float, float],
    trim: float,
    blank: Blank,
    system: System,
) -> list[Note]:
    notes = []
    for words, needs, offers in zip(
        ("along the sheet", "across the sheet"), way, size, strict=True
    ):
        if offers <= 0:
            whole = format_both(offers + 2 * trim, system)
            text = f"two trims of {format_length(trim, system)} leave nothing of {whole} {words}"
            notes.append(Note(text=text))
        elif ticks(needs) > ticks(offers):
            notes.append(
                Note(
                    text=f"it needs {format_both(needs, system)} {words}; "
                    f"the largest offers {format_both(offers, system)} "
                    f"({format_length(offers + 2 * trim, system)} less two trims of "
                    f"{format_length(trim, system)}), "
                    f"{format_both(needs - offers, system)} too little"
                )
            )
    if any(blank.allowance_mm):
        most = max(blank.allowance_mm)
        notes.append(
            Note(text=f"every side that is bevelled adds {format_both(most, system)} to its blank")
        )
    return notes


def _none_left_notes(part: Part, needs: list[tuple[float, float]]) -> list[Note]:
    """Return a note for every size that would be large enough but of which there are none."""
    return [
        Note(text=f"a {size.name} would hold it, but none can be had")
        for size in part.stock.goods.sizes
        if size.at_most == 0 and any(_fits(way, (size.length_mm, size.width_mm)) for way in needs)
    ]


def _find_hint(
    part: Part,
    blank: Blank,
    sizes: list[tuple[float, float]],
    over: float,
    system: System,
) -> str:
    if all(min(size) <= 0 for size in sizes):
        return "take a larger sheet, or a saw with a thinner blade"
    turned = (blank.width_mm, blank.length_mm)
    if not may_turn(part) and any(_fits(turned, size) for size in sizes):
        return "`grain: either` would let it be turned, and turned it fits"
    return f"make it {format_both(over, system)} smaller there, or make it of two parts" + (
        "" if may_turn(part) else "; turning the grain would not help"
    )


def _format_pair(length_mm: float, width_mm: float, system: System) -> str:
    return f"{format_both(length_mm, system)} by {format_both(width_mm, system)}"
