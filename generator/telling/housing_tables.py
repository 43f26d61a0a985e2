"""Channels of a plan as a table, and what cuts them."""

from generator.model.housing_words import (
    housing_ends,
    housing_face,
    housing_labels,
    housing_name,
    housing_place,
)
from generator.model.parts import Housing, Part
from generator.model.plan import Plan
from generator.model.words import capital, join_words
from generator.telling.tables import Table, make_table
from generator.units import format_length, format_size

CHANNEL_GUIDES = {"straightedge": "straightedge", "clamps": "two clamps"}
"""Keys of tools that guide a saw along a channel → their words, where the maker lists none."""


def make_housings(plan: Plan) -> Table:
    """Return one row for each channel: what it is, how deep and wide, where it runs, for what."""
    unit = "in" if plan.edition.system == "imperial" else "mm"
    head = ("Part@", "Channel", "In face", f"Deep, {unit}#", f"Wide, {unit}#", "Where", "Ends")
    rows = (_row(plan, part, one) for part in plan.parts.parts for one in part.housings)
    return make_table("Channels other parts stand in", (*head, "For@"), rows)


def make_channel_tools(plan: Plan) -> tuple[str, ...]:
    """Return what cuts the channels beside the saw; common practice, no source."""
    housings = [one for part in plan.parts.parts for one in part.housings]
    if not housings:
        return ()
    narrow = format_length(min(one.width_mm for one in housings), plan.edition.system)
    use = "clear channels and square their ends" if _stopped(housings) else "clear the channels"
    return (
        *_guide_words(plan),
        f"Chisel no wider than {narrow}, to {use}",
        f"Router with a straight bit no wider than {narrow}, if you have one",
    )


def _guide_words(plan: Plan) -> tuple[str, ...]:
    """Return what guides the tool along channels; nothing where the maker lists it already."""
    keys = {tool.key for tool in plan.edition.story.tools}
    words = [word for key, word in CHANNEL_GUIDES.items() if key not in keys]
    use = "to guide the saw or router along the channels"
    return (f"{capital(join_words(words))}, {use}",) if words else ()


def _stopped(housings: list[Housing]) -> bool:
    return any(one.stops for one in housings)


def _row(plan: Plan, part: Part, housing: Housing) -> tuple[str, ...]:
    system = plan.edition.system
    labels = plan.parts.labels()
    titles = {one.label: one.title for one in plan.parts.parts}
    mates = [f"{label} {titles[label]}" for label in housing_labels(housing, labels)]
    return (
        part.label,
        housing_name(housing),
        housing_face(part, housing),
        format_size(housing.depth_mm, system),
        format_size(housing.width_mm, system),
        housing_place(part, housing, system),
        housing_ends(part, housing, system),
        ", ".join(mates),
    )
