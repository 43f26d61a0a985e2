"""Sections of a booklet up to the last saw cut: shopping, tools, layouts, settings, parts."""

from collections.abc import Iterator, Sequence

from generator.model.artifacts import Artifacts
from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.booklet.drawings import Drawings
from generator.outputs.booklet.items import (
    Figure,
    Item,
    Room,
    groups,
    heading,
    picture,
    pictures,
    points,
    table,
    text,
)
from generator.telling.advice import Advice
from generator.telling.buying_tables import (
    make_bits,
    make_sheets_bought,
    make_shopping,
    make_tools,
)
from generator.telling.cutting_tables import (
    board_offcuts,
    board_words,
    layout_words,
    lifting_words,
    make_blanks,
    make_cut_groups,
    make_cut_list,
    make_settings,
    offcut_words,
    settings_words,
)
from generator.telling.fitting_tables import make_edging
from generator.telling.housing_tables import make_housings
from generator.telling.shop_tables import tell_shop
from generator.telling.tables import Table, make_table


def buying_items(plan: Plan, advice: Advice) -> Iterator[Item]:
    """Yield what to get: the shopping list, cuts to ask for at the shop, tools and bits."""
    yield heading("Shopping list", new_page=True)
    yield table(make_shopping(plan), tick_word="Got")
    yield points(make_sheets_bought(plan))
    yield heading("Tools")
    bits = ("Bits for the holes of this plan", make_bits(plan))
    yield groups((("At hand", make_tools(plan)), bits), ticked=True)
    yield from _shop_items(plan, advice)


def cutting_items(
    plan: Plan, artifacts: Artifacts, drawings: Drawings, room: Room, advice: Advice
) -> Iterator[Item]:
    """Yield what is sawn: lists, layouts, settings and cuts, channels."""
    yield heading("Cut list", new_page=True)
    yield text(advice.cut_list)
    yield table(make_cut_list(plan), tick_word="Done")
    if any(any(blank.allowance_mm) for blank in plan.cutting.blanks):
        yield table(make_blanks(plan), tick_word="Sawn")
    else:
        yield text(advice.plain_blanks)
    yield from _layout_items(plan, artifacts, drawings, room, advice)
    yield from _board_items(plan, artifacts, drawings, room, advice)
    yield heading("Cut order and saw settings")
    yield text(advice.cutting)
    words = settings_words(plan)
    if words:
        yield text(f"{words} {advice.wide_first}")
    yield table(make_settings(plan), tick_word="Set")
    if artifacts.settings:
        yield text(advice.saw_pictures)
        shown = ((drawings.figure(one), one.title) for _, one in artifacts.settings)
        yield pictures(shown, room)
    yield table(_cut_table(plan), tick_word="Done")
    yield heading("Your saw", 2)
    yield text(advice.own_saw)
    yield table(tell_shop(plan).saws)
    if advice.channels:
        yield heading("Channels")
        yield text(advice.channels)
        yield points(advice.channel_ways)
        yield table(make_housings(plan), tick_word="Cut")


def part_items(
    plan: Plan, artifacts: Artifacts, drawings: Drawings, room: Room, advice: Advice
) -> Iterator[Item]:
    """Yield the drawings of all parts, and which of their edges are covered."""
    yield heading("Part drawings", new_page=True)
    if any(one.path.endswith("/templates.pdf") for one in artifacts.downloads):
        yield text(
            "Shaped parts are there at full size as well, with their holes, to print and stick on: "
            "templates.pdf."
        )
    for part in plan.parts.parts:
        copies = "1 copy" if part.count == 1 else f"{part.count} copies"
        yield heading(f"{part.label}: {part.title}, {copies}", 2)
        yield from (picture(one, room) for one in _part_figures(artifacts, drawings, part))
    edging = make_edging(plan)
    if edging.rows:
        yield heading("Edging")
        yield text(advice.edging)
        yield table(edging, tick_word="Done")


def _shop_items(plan: Plan, advice: Advice) -> Iterator[Item]:
    if not advice.shop:
        return
    yield heading("Cuts at the shop")
    yield text(advice.shop)
    for one in tell_shop(plan).lists:
        yield text(one.lead)
        if one.cuts is not None:
            yield table(one.cuts, tick_word="Asked")
            yield text(one.pieces)


def _cut_table(plan: Plan) -> Table:
    """Return all cuts in one table; the first of a setting says what the setting is."""
    rows = [
        (cut, group.title if index == 0 else "", of, gives)
        for group in make_cut_groups(plan)
        for index, (cut, of, gives) in enumerate(group.rows)
    ]
    head = ("Cut", "Setting", "Cut from", "Gives")
    return make_table("Cuts in order, numbered as on the layouts", head, rows)


def _layout_items(
    plan: Plan, artifacts: Artifacts, drawings: Drawings, room: Room, advice: Advice
) -> Iterator[Item]:
    if not artifacts.layouts:
        return
    yield heading("Sheet layouts", new_page=True)
    yield text(advice.layouts)
    lifting = lifting_words(plan)
    if lifting:
        yield text(lifting)
    for layout, one in zip(plan.cutting.layouts, artifacts.layouts, strict=True):
        offcuts = offcut_words(plan, layout)
        kept = f" Worth keeping: {offcuts}." if offcuts else ""
        yield picture(drawings.figure(one), room, f"{layout_words(plan, layout)}{kept}")


def _board_items(
    plan: Plan, artifacts: Artifacts, drawings: Drawings, room: Room, advice: Advice
) -> Iterator[Item]:
    if not artifacts.boards:
        return
    yield heading("Board layouts")
    yield text(advice.boards)
    count = len(artifacts.boards)
    for number, one in enumerate(artifacts.boards, start=1):
        yield picture(drawings.figure(one), room, board_words(plan, number, count))
    offcuts = board_offcuts(plan)
    if offcuts:
        yield text(f"Worth keeping: {offcuts}.")


def _part_figures(artifacts: Artifacts, drawings: Drawings, part: Part) -> Sequence[Figure]:
    """Return the sheets of a part, which are drawn for this paper."""
    pictures = next(pictures for label, pictures in artifacts.parts if label == part.label)
    return [drawings.figure(one, states_scale=True) for one in pictures]
