"""What a followed text says where several stocks differ at once: what each changes, added up."""

from collections.abc import Sequence

from generator.model.measured import Change, FollowedText, MeasuredStock, Wording
from generator.pages.followed import split_text

ADDS_UP_MM = 0.005
"""A size of two stocks is put together from five that are carried in thousandths."""

Told = tuple[Wording, tuple[float, ...]]


def find_text(
    text: FollowedText, stocks: Sequence[MeasuredStock], thicknesses: Sequence[float]
) -> Told | None:
    """Return wording and sizes of a text; None where two stocks would change its words.

    The page's script does the same.
    """
    wording, values = text.wording, list(text.values_mm)
    others: list[tuple[float, ...]] = []
    for stock, changes, at in zip(stocks, text.along, thicknesses, strict=True):
        piece = find_piece(stock, at)
        change = changes[piece]
        if change is None:
            continue
        found = _values(change, at - stock.pieces[piece][0])
        if change.wording == text.wording:
            others.append(tuple(a - b for a, b in zip(found, text.values_mm, strict=True)))
        elif wording not in (text.wording, change.wording):
            return None
        else:
            wording, values = change.wording, list(found)
    for shifts in others:
        if len(shifts) != len(values):
            return None
        values = [value + shift for value, shift in zip(values, shifts, strict=True)]
    return wording, tuple(values)


def find_piece(stock: MeasuredStock, thickness_mm: float) -> int:
    """Return the number of the piece that is nearest to a thickness."""
    away = [max(low - thickness_mm, thickness_mm - high) for low, high in stock.pieces]
    return min(range(len(away)), key=away.__getitem__)


def says_the_same(text: str, told: Told | None, base: str) -> bool:
    """Whether a text says what was put together; what is not followed, the same as planned."""
    parts, kinds, values = split_text(text)
    if told is None:
        expected = split_text(base)
        wording, wanted = Wording(parts=expected[0], kinds=expected[1]), expected[2]
    else:
        wording, wanted = told
    if (parts, kinds) != (wording.parts, wording.kinds):
        return False
    return all(abs(a - b) <= ADDS_UP_MM for a, b in zip(values, wanted, strict=True))


def _values(change: Change, along_mm: float) -> tuple[float, ...]:
    return tuple(
        start + slope * along_mm
        for start, slope in zip(change.start_mm, change.slopes, strict=True)
    )
