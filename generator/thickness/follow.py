"""All that the page of a plan can follow, and whether several panels may differ at once."""

import itertools
from collections.abc import Iterator, Sequence

from generator.model.artifacts import Artifacts
from generator.model.catalogue import Catalogue, Sheet
from generator.model.cutting import Effort
from generator.model.design import Design
from generator.model.edition import Stock
from generator.model.measured import Change, FollowedText, Measured, MeasuredStock, Wording
from generator.model.plan import Plan
from generator.pages.entries import Entry
from generator.pages.followed import find_kept, split_text
from generator.thickness.along import Along, find_pieces, list_points
from generator.thickness.sampling import Refusal, Sample, Sampler, Thicknesses
from generator.thickness.straight import find_bent_formula
from generator.thickness.together import find_text, says_the_same


def follow_thickness(
    design: Design,
    catalogue: Catalogue,
    plan: Plan,
    artifacts: Artifacts,
    entry: Entry,
    effort: Effort = "normal",
) -> Measured:
    """Return what the page of a plan says where its sheets are thicker or thinner.

    Args:
        design: As it was read.
        catalogue: What can be bought.
        plan: As it was drawn.
        artifacts: Its drawings and files.
        entry: What the library says of the plan.
        effort: With which it was laid out.
    """
    sampler = make_sampler(design, catalogue, plan, artifacts, entry, effort)
    sheets = _sheets_of(plan)
    if not sheets:
        return Measured()
    names = frozenset(one.name for one in plan.edition.stocks if one.goods.key in sheets)
    bent = find_bent_formula(design, plan.edition.system, names)
    if bent:
        return Measured(refused=f"“{bent}” in the design is no straight line of the thickness")
    lines = [_find_along(sampler, place, one) for place, one in enumerate(sheets.values())]
    stocks = tuple(
        _measured_stock(sheet, line) for sheet, line in zip(sheets.values(), lines, strict=True)
    )
    texts = tuple(_find_texts(sampler, lines))
    if not texts:
        return Measured(refused=why_nothing(stocks))
    together = _hold_together(sampler, stocks, texts)
    return Measured(stocks=stocks, texts=texts, alone=not together)


def why_nothing(stocks: Sequence[MeasuredStock]) -> str:
    """Return why no other thickness can be followed, or that none changes anything."""
    whys = [
        f"where it is {word}, {why}"
        for one in stocks
        for word, why in (("thinner", one.below), ("thicker", one.above))
        if why
    ]
    return "; ".join(dict.fromkeys(whys)) or "no size of this plan hangs on it"


def make_sampler(
    design: Design,
    catalogue: Catalogue,
    plan: Plan,
    artifacts: Artifacts,
    entry: Entry,
    effort: Effort = "normal",
) -> Sampler:
    """Return what evaluates a plan at other thicknesses of its sheets; as for the whole."""
    sheets = _sheets_of(plan)
    return Sampler(
        design=design,
        catalogue=catalogue,
        plan=plan,
        artifacts=artifacts,
        entry=entry,
        keys=tuple(sheets),
        planned=tuple(sheet.thickness_mm for sheet in sheets.values()),
        effort=effort,
    )


def _sheets_of(plan: Plan) -> dict[str, Sheet]:
    """Return the sheets a plan is sawn from whose range of thickness is known, by key."""
    used = {layout.stock.name for layout in plan.cutting.layouts}
    stocks: Iterator[Stock] = (one for one in plan.edition.stocks if one.name in used)
    return {
        one.goods.key: one.goods
        for one in stocks
        if isinstance(one.goods, Sheet) and one.goods.range_mm is not None
    }


def _find_along(sampler: Sampler, place: int, sheet: Sheet) -> Along:
    assert sheet.range_mm is not None
    planned = sampler.planned

    def at(thickness_mm: float) -> Thicknesses:
        return (*planned[:place], thickness_mm, *planned[place + 1 :])

    return find_pieces(
        list_points(sheet.thickness_mm, *sheet.range_mm),
        sheet.thickness_mm,
        lambda thickness_mm: sampler.sample(at(thickness_mm)),
        lambda thickness_mm: sampler.check(at(thickness_mm)),
    )


def _measured_stock(sheet: Sheet, line: Along) -> MeasuredStock:
    at = line.points_mm
    return MeasuredStock(
        key=sheet.key,
        title=sheet.name,
        planned_mm=sheet.thickness_mm,
        least_mm=at[line.pieces[0][0]],
        most_mm=at[line.pieces[-1][1]],
        source=sheet.source,
        pieces=tuple((at[first], at[last]) for first, last in line.pieces),
        below=line.below,
        above=line.above,
    )


def _find_texts(sampler: Sampler, lines: Sequence[Along]) -> Iterator[FollowedText]:
    """Yield every text that is not everywhere as planned."""
    base = sampler.base()
    ends = [
        [
            tuple(_at(sampler, place, line.points_mm[point]) for point in piece)
            for piece in line.pieces
        ]
        for place, line in enumerate(lines)
    ]
    for number, text in enumerate(base.texts):
        along = tuple(
            tuple(
                _change(text, low.texts[number], high.texts[number], _length(line, piece))
                for (low, high), piece in zip(found, line.pieces, strict=True)
            )
            for found, line in zip(ends, lines, strict=True)
        )
        if any(change is not None for changes in along for change in changes):
            parts, kinds, values = split_text(text)
            yield FollowedText(
                number=number,
                wording=Wording(parts=parts, kinds=kinds),
                values_mm=values,
                along=along,
                kept=find_kept(text),
            )


def _at(sampler: Sampler, place: int, thickness_mm: float) -> Sample:
    planned = sampler.planned
    found = sampler.sample((*planned[:place], thickness_mm, *planned[place + 1 :]))
    assert isinstance(found, Sample)
    return found


def _length(line: Along, piece: tuple[int, int]) -> float:
    return line.points_mm[piece[1]] - line.points_mm[piece[0]]


def _change(base: str, low: str, high: str, length_mm: float) -> Change | None:
    if base == low == high:
        return None
    parts, kinds, start = split_text(low)
    end = split_text(high)[2]
    rises = (last - first for first, last in zip(start, end, strict=True))
    return Change(
        wording=Wording(parts=parts, kinds=kinds),
        start_mm=start,
        slopes=tuple(rise / length_mm if length_mm > 0 else 0.0 for rise in rises),
    )


def _hold_together(
    sampler: Sampler, stocks: Sequence[MeasuredStock], texts: Sequence[FollowedText]
) -> bool:
    """Whether what is found along each stock adds up where several differ at once.

    A decision that hangs on two thicknesses falls along a slanting line. Where it falls otherwise
    than along the axes alone, it does so at a corner of the whole range, or moves a border between
    two wordings, which is seen on both sides of the border at the far ends of the other stocks.
    """
    if len(stocks) < 2:
        return True
    return all(_agrees(sampler, stocks, texts, place) for place in _far_places(stocks))


def _far_places(stocks: Sequence[MeasuredStock]) -> Iterator[Thicknesses]:
    ends = [(one.least_mm, one.most_mm) for one in stocks]
    found = dict.fromkeys(itertools.product(*ends))
    far = tuple(
        one.least_mm
        if one.planned_mm - one.least_mm > one.most_mm - one.planned_mm
        else one.most_mm
        for one in stocks
    )
    for place, stock in enumerate(stocks):
        for before, after in itertools.pairwise(stock.pieces):
            if before[1] < after[0]:
                for border in (before[1], after[0]):
                    found[(*far[:place], border, *far[place + 1 :])] = None
    yield from found


def _agrees(
    sampler: Sampler,
    stocks: Sequence[MeasuredStock],
    texts: Sequence[FollowedText],
    place: Thicknesses,
) -> bool:
    found = sampler.sample(place)
    if isinstance(found, Refusal) or sampler.check(place) is not None:
        return False
    told = {text.number: find_text(text, stocks, place) for text in texts}
    base = sampler.base()
    return all(
        says_the_same(found.texts[number], told.get(number), base.texts[number])
        for number in range(len(base.texts))
    )
