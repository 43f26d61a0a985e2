"""The drawings of boards: strips below each other with their blanks and the numbers of the cuts.

A board is far longer than wide, so that it is drawn wider than it is: all of one height.
"""

from collections.abc import Sequence
from typing import Final

from generator.model.cutting import Layout
from generator.model.plan import Plan
from generator.outputs.layout_cuts import SheetPaper
from generator.outputs.layout_drawing import MARGIN_MM, PAGE_MM, draw_sawn, draw_shades, tell_small
from generator.outputs.panels import bounds_of, moved_items
from generator.outputs.scene import SMALLEST_TEXT_MM, TEXT_MM, Item, Scene, Words
from generator.units import format_length, format_size

LONGEST_MM: Final = 146.0
HIGH_MM: Final = 13.0
GAP_MM: Final = 5.0
MOST_ON_A_PAGE: Final = 6


def draw_boards(plan: Plan) -> tuple[Scene, ...]:
    """Return all boards of a plan, a few on each drawing; none where it has no boards."""
    boards = plan.cutting.boards
    pages = [boards[i : i + MOST_ON_A_PAGE] for i in range(0, len(boards), MOST_ON_A_PAGE)]
    return tuple(_draw_page(plan, page) for page in pages)


def _draw_page(plan: Plan, boards: Sequence[Layout]) -> Scene:
    scale = LONGEST_MM / max(board.size.length_mm for board in plan.cutting.boards)
    blocks: list[Sequence[Item]] = [_board(plan, board, scale) for board in boards]
    blocks.append(_key(plan, boards[0]))
    heights = [bounds_of(block)[3] - bounds_of(block)[1] for block in blocks]
    height = round(sum(heights) + GAP_MM * (len(blocks) - 1) + 2 * MARGIN_MM, 2)
    items: list[Item] = []
    top = height - MARGIN_MM
    for block, high in zip(blocks, heights, strict=True):
        items += moved_items(block, 0.0, top - bounds_of(block)[3])
        top -= high + GAP_MM
    first, last = boards[0].number, boards[-1].number
    numbers = f"Board {first}" if first == last else f"Boards {first} to {last}"
    return Scene(
        width_mm=PAGE_MM,
        height_mm=height,
        title=f"{numbers} of {len(plan.cutting.boards)}",
        description=" ".join(_describe(plan, board) for board in boards),
        items=tuple(items),
    )


def _board(plan: Plan, board: Layout, scale: float) -> list[Item]:
    """Return one board under its name."""
    paper = SheetPaper(board, scale, HIGH_MM / board.size.width_mm)
    picture, _ = draw_sawn(plan, paper)
    sawn = moved_items(picture, (PAGE_MM - LONGEST_MM) / 2, 0.0)
    line = bounds_of(sawn)[3] + 2.4
    name = f"Board {board.number}: {board.stock.title}, {board.size.name}"
    used = f"{round(board.used * 100)} % becomes blanks"
    below = bounds_of(sawn)[1] - 4.0
    told = tell_small(plan, board, picture)
    return [
        *sawn,
        *(
            Words(at=(MARGIN_MM, below - 4.4 * i), text=one, size_mm=SMALLEST_TEXT_MM)
            for i, one in enumerate(told)
        ),
        Words(at=(MARGIN_MM, line), text=name, size_mm=TEXT_MM, bold=True),
        Words(at=(PAGE_MM - MARGIN_MM, line), text=used, size_mm=SMALLEST_TEXT_MM, anchor="end"),
    ]


def _key(plan: Plan, board: Layout) -> tuple[Item, ...]:
    system = plan.edition.system
    unit = "inches" if system == "imperial" else "mm"
    kerf, trim = (format_length(size, system) for size in (board.kerf_mm, board.trim_mm[0]))
    lines = (
        f"Numbers in circles: order of the cuts in the whole plan. Blank sizes in {unit}.",
        f"Each cut takes a kerf of {kerf}; {trim} is cut off both ends first. "
        "The grain runs along the boards.",
    )
    words = [
        Words(at=(0.0, -6.0 - 4.6 * i), text=line, size_mm=SMALLEST_TEXT_MM)
        for i, line in enumerate(lines)
    ]
    return moved_items([*draw_shades(), *words], MARGIN_MM, 0.0)


def _describe(plan: Plan, board: Layout) -> str:
    """Return a board in words, with its numbers."""
    system = plan.edition.system
    blanks = [
        f"{one.label} {format_size(one.length_mm, system)} × {format_length(one.width_mm, system)}"
        for one in board.placements
    ]
    text = f"Board {board.number}, {board.stock.title}, {board.size.name}: {'; '.join(blanks)}"
    left = [format_length(one.length_mm, system) for one in board.offcuts]
    return f"{text}{', left over ' + ' and '.join(left) if left else ''}."
