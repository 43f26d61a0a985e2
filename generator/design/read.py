"""A design file, whole: read, understood section by section, its names checked."""

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TypeVar

from generator.design.names import check_names
from generator.design.phrases import parse_name, parse_way
from generator.design.read_finish import read_finishes
from generator.design.read_hardware import read_hardware
from generator.design.read_joints import (
    find_prose,
    find_prose_list,
    read_accept,
    read_buy,
    read_joint,
    read_require,
    read_step,
)
from generator.design.read_parts import read_part
from generator.design.read_shop import read_offcut
from generator.design.values import (
    find_by_edition,
    find_formula,
    find_point,
    find_turns,
    read_by_edition,
    read_named_frame,
)
from generator.model.design import (
    CarSource,
    Design,
    Heading,
    ParameterSource,
    PlaneSource,
    RouterSource,
    SizeSource,
    StockSource,
)
from generator.model.phrases import ByEdition, Prose
from generator.problems import Place, Problem, ProblemLog, merge_repeats, sort_problems
from generator.units import SYSTEMS
from generator.yaml_source.getters import MappingReader, find_entries, find_word
from generator.yaml_source.nodes import Entries, Node, Word
from generator.yaml_source.parse import parse_yaml

Found = TypeVar("Found")

STANDS = ("freely", "fixed", "hung")
"""Whether a piece stands freely, is fixed to a wall where it stands, or is hung on one."""

DIFFICULTIES = ("beginner", "intermediate", "advanced")
LIMITS = {"parameters": 200, "parts": 200, "joints": 200, "steps": 200, "frames": 100, "sizes": 12}
"""More of anything than a person would write by hand is a slip or an attack."""


def read_design(path: Path, shown: str) -> tuple[Design | None, tuple[Problem, ...]]:
    """Return the design of a file, or None with everything that is wrong with it.

    Args:
        path: The file.
        shown: Its path as problems name it.
    """
    log = ProblemLog()
    try:
        text = path.read_bytes()
    except OSError as error:
        place = Place(file=shown, line=1, column=1)
        log.add("D115", place, why=(error.strerror or "unknown reason").lower())
        return None, tuple(log.problems)
    design = parse_design(text, shown, path.parent.name, log)
    return design, merge_repeats(sort_problems(log.problems))


def parse_design(source: str | bytes, shown: str, slug: str, log: ProblemLog) -> Design | None:
    """Return the design a text says, or None where the log has errors."""
    root = parse_yaml(source, shown, log)
    entries = None if root is None else find_entries(root, log, "a mapping of sections")
    if entries is None:
        return None
    reader = MappingReader(entries, log)
    finish, finishes = read_finishes(reader, log)
    design = Design(
        slug=slug,
        file=shown,
        place=Place(file=shown, line=1, column=1),
        heading=_read_heading(reader, finish, log),
        parameters=_read_named(reader, "parameters", _read_parameter, log),
        stocks=_read_named(reader, "stock", _read_stock, log),
        planes=_read_named(reader, "planes", _read_plane, log),
        frames=_read_named(reader, "frames", read_named_frame, log),
        parts=_read_named(reader, "parts", read_part, log),
        joints=_read_list(reader, "joints", read_joint, log),
        steps=_read_list(reader, "steps", read_step, log),
        buys=_read_list(reader, "buy", read_buy, log),
        accepts=_read_list(reader, "accept", read_accept, log),
        requires=_read_list(reader, "require", read_require, log),
        sizes=_read_named(reader, "sizes", _read_size, log),
        finishes=finishes,
        hardware=_read_named(reader, "hardware", read_hardware, log),
        offcuts=_read_named(reader, "offcuts", read_offcut, log),
    )
    for key in ("stock", "parts"):
        reader.required(key)
    reader.finish()
    if not log.has_errors:
        check_names(design, log)
    return None if log.has_errors else design


def _read_named(
    reader: MappingReader,
    key: str,
    read: Callable[[Word, Node, ProblemLog], Found | None],
    log: ProblemLog,
) -> tuple[Found, ...]:
    """Return what stands under the names of a section."""
    entries = reader.entries(key)
    if _too_many(reader, key, len(entries), log):
        return ()
    return tuple(found for name, node in entries if (found := read(name, node, log)) is not None)


def _read_list(
    reader: MappingReader,
    key: str,
    read: Callable[[Node, ProblemLog], Found | None],
    log: ProblemLog,
) -> tuple[Found, ...]:
    items = reader.items(key)
    if _too_many(reader, key, len(items), log):
        return ()
    return tuple(found for item in items if (found := read(item, log)) is not None)


def _too_many(reader: MappingReader, key: str, count: int, log: ProblemLog) -> bool:
    limit = LIMITS.get(key, 200)
    if count <= limit:
        return False
    log.add("D116", reader.place_of(key), count=count, things=key, limit=limit)
    return True


def _read_heading(reader: MappingReader, finish: Prose, log: ProblemLog) -> Heading:
    saw = reader.word("saw")
    return Heading(
        title=_text_of(reader.required_word("title")),
        summary=find_prose(reader, "summary", log),
        about=find_prose(reader, "about", log),
        difficulty=reader.choice("difficulty", DIFFICULTIES, "beginner") or "beginner",
        made_by=reader.text("made_by"),
        licence=reader.text("licence"),
        revision=reader.text("revision", "1"),
        date=_read_date(reader, log),
        tags=tuple(word.text for word in reader.words("tags")),
        hours=reader.text("hours"),
        children=reader.yes_no("children", default=False),
        stands=reader.choice("stands", STANDS) or STANDS[0],
        stands_place=reader.place_of("stands"),
        changes=_read_changes(reader, log),
        finish=finish,
        cautions=find_prose_list(reader.node("cautions"), log),
        tools=tuple((word.text, word.place) for word in reader.words("tools")),
        saw="circular-saw" if saw is None else saw.text,
        saw_place=reader.place_of("saw"),
        car=_read_car(reader, log),
        router=_read_router(reader, log),
    )


def _read_car(reader: MappingReader, log: ProblemLog) -> CarSource | None:
    inner = reader.mapping("car")
    if inner is None:
        return None
    for key in ("length", "width"):
        inner.required(key)
    car = CarSource(
        length=find_by_edition(inner, "length", log), width=find_by_edition(inner, "width", log)
    )
    inner.finish()
    return car


def _read_router(reader: MappingReader, log: ProblemLog) -> RouterSource | None:
    inner = reader.mapping("router")
    if inner is None:
        return None
    bit, apart, border = (find_by_edition(inner, key, log) for key in ("bit", "apart", "border"))
    inner.finish()
    return RouterSource(bit=bit, apart=apart, border=border)


def _text_of(word: Word | None) -> str:
    return "" if word is None else word.text


def _read_date(reader: MappingReader, log: ProblemLog) -> str:
    word = reader.required_word("date")
    if word is None:
        return ""
    try:
        return date.fromisoformat(word.text).isoformat()
    except ValueError:
        log.add("D114", word.place, text=word.text, expected="a date", hint="like 2026-11-25")
        return ""


def _read_changes(reader: MappingReader, log: ProblemLog) -> tuple[tuple[str, str], ...]:
    return tuple(
        (name.text, word.text)
        for name, node in reader.entries("changes")
        if (word := find_word(node, log)) is not None
    )


def _read_parameter(name: Word, node: Node, log: ProblemLog) -> ParameterSource | None:
    named = parse_name(name, log)
    if named is None:
        return None
    if not isinstance(node, Entries):
        value = read_by_edition(node, log)
        return ParameterSource(
            name=named, value=value, least=None, most=None, says="", place=name.place
        )
    reader = MappingReader(node, log)
    both = find_formula(reader, "value", log)
    each = {system: find_formula(reader, system, log) for system in SYSTEMS}
    written = [system for system in SYSTEMS if reader.has(system)]
    if reader.has("value") and written:
        log.add("D119", reader.place_of("value"), first="value", second=written[0])
    elif not reader.has("value") and len(written) < len(SYSTEMS):
        missing = [system for system in SYSTEMS if system not in written]
        hint = "give a `value`, or one for each edition: `imperial` and `metric`"
        reader.report_missing(missing[0] if written else "value", name.place, hint)
    parameter = ParameterSource(
        name=named,
        value=ByEdition(
            imperial=each["imperial"] if both is None else both,
            metric=each["metric"] if both is None else both,
        ),
        least=find_formula(reader, "min", log),
        most=find_formula(reader, "max", log),
        says=reader.text("says"),
        place=name.place,
    )
    reader.finish()
    return parameter


def _read_size(name: Word, node: Node, log: ProblemLog) -> SizeSource | None:
    """Return a named size: ``says``, and under every other key the value of a parameter."""
    named, entries = parse_name(name, log), find_entries(node, log)
    if named is None or entries is None:
        return None
    told = [find_word(value, log) for key, value in entries.entries if key.text == "says"]
    return SizeSource(
        name=named,
        values=tuple(
            (key.text, read_by_edition(value, log), key.place)
            for key, value in entries.entries
            if key.text != "says"
        ),
        says=" ".join(_text_of(word).strip() for word in told),
        place=name.place,
    )


def _read_stock(name: Word, node: Node, log: ProblemLog) -> StockSource | None:
    named = parse_name(name, log)
    if named is None:
        return None
    if isinstance(node, Word):
        word = find_word(node, log)
        if word is None:
            return None
        places = (word.place, word.place)
        return StockSource(
            name=named, imperial=word.text, metric=word.text, places=places, place=name.place
        )
    entries = find_entries(node, log)
    if entries is None:
        return None
    reader = MappingReader(entries, log)
    words = [reader.required_word(system) for system in SYSTEMS]
    reader.finish()
    imperial, metric = words
    if imperial is None or metric is None:
        return None
    return StockSource(
        name=named,
        imperial=imperial.text,
        metric=metric.text,
        places=(imperial.place, metric.place),
        place=name.place,
    )


def _read_plane(name: Word, node: Node, log: ProblemLog) -> PlaneSource | None:
    named, entries = parse_name(name, log), find_entries(node, log)
    if named is None or entries is None:
        return None
    reader = MappingReader(entries, log)
    at = find_point(reader, "at", log)
    if not reader.has("at"):
        reader.report_missing("at", name.place)
    word = reader.required_word("facing")
    facing = None if word is None else parse_way(word.text, word.place, log)
    turns = find_turns(reader, log)
    reader.finish()
    if at is None or facing is None:
        return None
    return PlaneSource(name=named, at=at, facing=facing, turns=turns, place=name.place)
