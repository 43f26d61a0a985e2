"""What the library index says of each plan; kept beside the plan's pages.

The file lets a library be put together again when a design can no longer be computed: its pages
of before stay, and so does its place in the index.
"""

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from generator.files import write_file
from generator.model.artifacts import Artifacts, Picture
from generator.model.plan import Plan
from generator.model.words import capital
from generator.telling.buying_tables import cost_words, needed_tools, overall_words, sheets_words
from generator.units import SYSTEMS, System

ENTRY_FILE = ".entry.json"
"""A name with a dot: mkdocs does not copy it to the site."""

NUMBER = re.compile(r"\d+(?:\.\d+)?")

UNIT_WORDS: Mapping[System, str] = {"imperial": "Inches", "metric": "Millimetres"}


@dataclass(frozen=True, slots=True, kw_only=True)
class EditionFacts:
    """What the index says of one edition."""

    system: System
    overall: str
    sheets: str
    sheet_count: int
    cost: str

    @property
    def unit(self) -> str:
        """Its name on the unit switch."""
        return UNIT_WORDS[self.system]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One plan of the library.

    Attributes:
        picture: Of the first edition; its path is from the plan's folder.
        editions: In the order of `SYSTEMS`.
        tools: Everything of the catalogue the plan asks for, the saw first.
        design: The folder of its design; the plans of all its sizes share it.
        size: The name of its size, or "" for the design as it stands.
        size_says: The maker's words on the size.
    """

    slug: str
    title: str
    summary: str
    difficulty: str
    hours: str
    date: str
    revision: str
    tags: tuple[str, ...]
    tools: tuple[str, ...]
    picture: Picture
    editions: tuple[EditionFacts, ...]
    design: str
    size: str
    size_says: str

    @property
    def most_sheets(self) -> int:
        """How many sheets at most must be bought, in either edition."""
        return max(one.sheet_count for one in self.editions)

    @property
    def most_hours(self) -> float:
        """The longer time the maker names; 0 where none is named."""
        return max((float(one) for one in NUMBER.findall(self.hours)), default=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A design in the index: one of its plans, and all of them where it has several sizes.

    Attributes:
        entry: The design as it stands, or the first of its sizes that has pages.
        sizes: All its plans; empty where there is one only.
    """

    entry: Entry
    sizes: tuple[Entry, ...]

    @property
    def plans(self) -> tuple[Entry, ...]:
        """All plans of the design."""
        return self.sizes if self.sizes else (self.entry,)


def make_cards(entries: Iterable[Entry]) -> tuple[Card, ...]:
    """Return the cards of the index, by title; the sizes of a design in the order given."""
    designs: dict[str, list[Entry]] = {}
    for entry in entries:
        designs.setdefault(entry.design, []).append(entry)
    cards = [
        Card(
            entry=next((one for one in plans if not one.size), plans[0]),
            sizes=tuple(plans) if len(plans) > 1 else (),
        )
        for plans in designs.values()
    ]
    return tuple(sorted(cards, key=lambda one: (one.entry.title.casefold(), one.entry.slug)))


def make_entry(plans: Mapping[System, Plan], artifacts: Mapping[System, Artifacts]) -> Entry:
    """Return the entry of a plan computed in one or both editions."""
    systems = [system for system in SYSTEMS if system in plans]
    story = plans[systems[0]].edition.story
    return Entry(
        slug=story.slug,
        title=story.title,
        summary=story.summary,
        difficulty=story.difficulty,
        hours=story.hours,
        date=story.date,
        revision=story.revision,
        tags=story.tags,
        tools=tuple(capital(tool.name) for tool in needed_tools(plans[systems[0]])),
        picture=artifacts[systems[0]].finished,
        editions=tuple(
            EditionFacts(
                system=system,
                overall=overall_words(plans[system]),
                sheets=sheets_words(plans[system]),
                sheet_count=sum(need.sheets for need in plans[system].cutting.needs),
                cost=cost_words(plans[system]),
            )
            for system in systems
        ),
        design=story.design if story.design else story.slug,
        size=story.size,
        size_says=story.size_says,
    )


def plan_folder(docs: Path, slug: str) -> Path:
    """Return the folder of a plan's pages, drawings and files."""
    return docs / "plans" / slug


def write_entry(docs: Path, entry: Entry) -> None:
    """Write an entry beside the pages of its plan."""
    text = json.dumps(asdict(entry), ensure_ascii=False, indent=1)
    write_file(plan_folder(docs, entry.slug) / ENTRY_FILE, (text + "\n").encode("utf-8"))


def read_entry(docs: Path, slug: str) -> Entry | None:
    """Return the entry of a plan built before; None where there is none that can be used."""
    path = plan_folder(docs, slug) / ENTRY_FILE
    if not path.is_file():
        return None
    try:
        values = json.loads(path.read_text(encoding="utf-8"))
        picture = Picture(**values.pop("picture"))
        editions = tuple(EditionFacts(**one) for one in values.pop("editions"))
        tags, tools = tuple(values.pop("tags")), tuple(values.pop("tools"))
        return Entry(picture=picture, editions=editions, tags=tags, tools=tools, **values)
    except (ValueError, KeyError, TypeError, AttributeError):
        return None
