"""What the plans of a library can be sifted by: place, level, time, sheets and tools at hand."""

from collections.abc import Sequence
from dataclasses import dataclass

from generator.pages.entries import Card

LEVELS = ("beginner", "intermediate", "advanced")
HOURS = (4, 6, 8, 12)
"""Steps offered for the time a plan takes at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filters:
    """The choices offered; a list that would not part the plans is empty.

    Attributes:
        tags: Kinds of rooms and of work, sorted.
        levels: From the easiest on.
        hours: ``At most``, in hours.
        sheets: ``At most``, in sheets.
        tools: All that any plan asks for and not every plan does, sorted.
    """

    tags: tuple[str, ...]
    levels: tuple[str, ...]
    hours: tuple[int, ...]
    sheets: tuple[int, ...]
    tools: tuple[str, ...]


def make_filters(cards: Sequence[Card]) -> Filters:
    """Return what parts the plans of a library."""
    plans = [plan for card in cards for plan in card.plans]
    levels = dict.fromkeys(plan.difficulty for plan in plans if plan.difficulty)
    ranked = sorted(levels, key=lambda one: LEVELS.index(one) if one in LEVELS else len(LEVELS))
    hours = [plan.most_hours for plan in plans]
    sheets = sorted({plan.most_sheets for plan in plans})
    tools = {tool for plan in plans for tool in plan.tools}
    return Filters(
        tags=tuple(sorted({tag for plan in plans for tag in plan.tags})),
        levels=tuple(ranked) if len(ranked) > 1 else (),
        hours=tuple(one for one in HOURS if min(hours, default=0) <= one < max(hours, default=0)),
        sheets=tuple(sheets[:-1]),
        tools=tuple(
            sorted(tool for tool in tools if not all(tool in plan.tools for plan in plans))
        ),
    )
