"""Boards filled by a rule of thumb, and boards that one longer board can take the place of."""

from collections.abc import Sequence

from generator.cutting.lengths import Filled, Left, Length, cost_of


def fit_first(
    pieces: Sequence[int], counts: Sequence[int], lengths: Sequence[Length]
) -> tuple[Filled, ...]:
    """Return boards filled piece by piece, the longest first, each into the first with room.

    That is done for every length that is sold, and the cheapest outcome is returned.

    Args:
        pieces: Different lengths in ticks, kerf included, the longest first; each has a board.
        counts: How many of each.
        lengths: What is sold, the shortest first.
    """
    plans = [
        merge_boards(pieces, _fit_into(pieces, counts, lengths, usual.room), lengths)
        for usual in lengths
    ]
    return min(plans, key=cost_of)


def merge_boards(
    pieces: Sequence[int], boards: Sequence[Filled], lengths: Sequence[Length]
) -> tuple[Filled, ...]:
    """Return boards that buy no more length and are fewer where one board does for two."""
    kept = [_shortened(pieces, board.taken, lengths) for board in boards]
    used = [_room_of(pieces, board.taken) for board in kept]
    place = 0
    while place < len(kept) and 2 * lengths[0].bought <= lengths[-1].bought:
        later = _find_partner(kept, used, place, lengths)
        if later is None:
            place += 1
        else:
            pairs = zip(kept[place].taken, kept.pop(later).taken, strict=True)
            used[place] += used.pop(later)
            kept[place] = _shortened(pieces, tuple(a + b for a, b in pairs), lengths)
    return tuple(kept)


def _fit_into(
    pieces: Sequence[int], counts: Sequence[int], lengths: Sequence[Length], usual: int
) -> list[Filled]:
    """Return boards of a usual room; pieces longer than that get the longest board."""
    longest = lengths[-1]
    rests: list[int] = []
    taken: list[list[int]] = []
    for index, (piece, count) in enumerate(zip(pieces, counts, strict=True)):
        first = 0
        for _ in range(count):
            while first < len(rests) and rests[first] < piece:
                first += 1
            if first == len(rests):
                rests.append(usual if piece <= usual else longest.room)
                taken.append([0] * len(pieces))
            rests[first] -= piece
            taken[first][index] += 1
    return [_shortened(pieces, tuple(one), lengths) for one in taken]


def _find_partner(
    boards: Sequence[Filled], used: Sequence[int], place: int, lengths: Sequence[Length]
) -> int | None:
    """Return a later board that goes onto one board with this one, if that buys no more."""
    bought = boards[place].length.bought
    for later in range(place + 1, len(boards)):
        both = bought + boards[later].length.bought
        need = used[place] + used[later]
        if any(one.room >= need and one.bought <= both for one in reversed(lengths)):
            return later
    return None


def _shortened(pieces: Sequence[int], taken: Left, lengths: Sequence[Length]) -> Filled:
    need = _room_of(pieces, taken)
    return Filled(next(one for one in lengths if one.room >= need), taken)


def _room_of(pieces: Sequence[int], taken: Left) -> int:
    return sum(piece * count for piece, count in zip(pieces, taken, strict=True))
