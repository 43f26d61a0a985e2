"""Boards to buy: which lengths, which pieces come from each, and the least that can do.

Aims in their order: least length bought, fewest boards. Small jobs are searched whole, so that the
answer is known to be the least; for large ones there is a linear program, which mostly proves the
same.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from generator.cutting.board_program import Task, find_cheaper, find_cost_bound
from generator.cutting.board_search import search_boards
from generator.cutting.budget import BOARD_WORK
from generator.cutting.first_fit import fit_first, merge_boards
from generator.cutting.lengths import Filled, Length, cost_of, find_plain_bound, find_step

WORK = BOARD_WORK["normal"]
"""Most work of the linear program for one stock."""

MOST_SEARCHED = 60
"""Pieces in one search; of more it would not come to an end."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The boards to buy, and a length in ticks that no choice can do with less than."""

    boards: tuple[Filled, ...]
    bound: int


def choose_boards(
    pieces: Sequence[int], counts: Sequence[int], lengths: Sequence[Length], work: int = WORK
) -> Choice:
    """Return the boards to buy for pieces of some lengths.

    Args:
        pieces: Different lengths in ticks, kerf included, the longest first; each has a board.
        counts: How many of each.
        lengths: What is sold, the shortest first.
        work: Most work of the linear program.
    """
    boards = fit_first(pieces, counts, lengths)
    if sum(counts) <= MOST_SEARCHED:
        boards, is_whole = search_boards(pieces, counts, lengths, boards)
        if is_whole:
            return Choice(boards, cost_of(boards)[0])
    bound = find_plain_bound(pieces, counts, lengths)
    if bound == cost_of(boards)[0]:
        return Choice(boards, bound)
    step = find_step(lengths)
    task = _make_task(pieces, counts, lengths, work)
    answer = find_cheaper(task, cost_of(boards)[0] // step)
    if answer.boards:
        found = [Filled(lengths[place], taken) for place, taken in answer.boards]
        boards = merge_boards(pieces, found, lengths)
    return Choice(boards, max(bound, answer.bound * step))


def find_length_bound(
    pieces: Sequence[int], counts: Sequence[int], lengths: Sequence[Length], work: int = WORK
) -> int:
    """Return a length of board, in ticks, that no choice can do with less than.

    Args:
        pieces: As for `choose_boards`.
        counts: The same.
        lengths: The same.
        work: The same.
    """
    plain = find_plain_bound(pieces, counts, lengths)
    bound = find_cost_bound(_make_task(pieces, counts, lengths, work))
    return max(plain, bound * find_step(lengths))


def _make_task(
    pieces: Sequence[int], counts: Sequence[int], lengths: Sequence[Length], work: int
) -> Task:
    step = find_step(lengths)
    return Task(
        pieces=tuple(pieces),
        counts=tuple(counts),
        rooms=tuple(one.room for one in lengths),
        costs=tuple(one.bought // step for one in lengths),
        work=work,
    )
