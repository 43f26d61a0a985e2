"""Values several sections share: points, values by edition, turns, frames, ranges."""

from generator.design.phrases import parse_each, parse_name, parse_turn
from generator.formula.parse import parse_formula
from generator.formula.tree import Formula
from generator.model.design import FrameSource
from generator.model.phrases import ByEdition, Each, Turn
from generator.problems import Place, ProblemLog
from generator.units import SYSTEMS
from generator.yaml_source.getters import (
    MappingReader,
    find_comma_hint,
    find_entries,
    find_items,
    find_word,
)
from generator.yaml_source.nodes import Entries, Node, Word

MOST_RANGES = 2
"""A row of columns can still be numbered and found; a third number nobody keeps apart."""

Point = tuple[Formula, Formula, Formula]


def read_formula(node: Node, log: ProblemLog) -> Formula | None:
    """Return the formula a node says."""
    word = find_word(node, log, "a formula")
    return None if word is None else parse_formula(word.text, word.place, log)


def find_formula(reader: MappingReader, key: str, log: ProblemLog) -> Formula | None:
    """Return the formula under a key, None where it is absent or at fault."""
    node = reader.node(key)
    return None if node is None else read_formula(node, log)


def find_point(reader: MappingReader, key: str, log: ProblemLog) -> Point | None:
    """Return the three formulas under a key: right, back, up."""
    node = reader.node(key)
    if node is None:
        return None
    items = find_items(node, log, "a list of three lengths: right, back, up")
    if items is None:
        return None
    if len(items) != 3:
        log.add(
            "D106",
            node.place,
            key=key,
            expected="a list of three lengths: right, back, up",
            found=f"a list of {len(items)}",
            hint=find_comma_hint(items),
        )
        return None
    formulas = [read_formula(item, log) for item in items]
    if formulas[0] is None or formulas[1] is None or formulas[2] is None:
        return None
    return (formulas[0], formulas[1], formulas[2])


def read_by_edition(node: Node, log: ProblemLog) -> ByEdition:
    """Return one formula for both editions, or one for each."""
    if isinstance(node, Entries):
        reader = MappingReader(node, log)
        nodes = {system: reader.required(system) for system in SYSTEMS}
        found = {s: None if node is None else read_formula(node, log) for s, node in nodes.items()}
        reader.finish()
        return ByEdition(imperial=found["imperial"], metric=found["metric"])
    formula = read_formula(node, log)
    return ByEdition(imperial=formula, metric=formula)


def find_by_edition(reader: MappingReader, key: str, log: ProblemLog) -> ByEdition:
    """Return the formula or formulas under a key; empty where it is absent."""
    node = reader.node(key)
    return ByEdition(imperial=None, metric=None) if node is None else read_by_edition(node, log)


def find_turns(reader: MappingReader, log: ProblemLog) -> tuple[Turn, ...]:
    """Return the turns under ``turn``: one, or a list in their order."""
    turns = (parse_turn(word, log) for word in reader.words("turn"))
    return tuple(turn for turn in turns if turn is not None)


def find_each(reader: MappingReader, log: ProblemLog) -> tuple[Each, ...]:
    """Return the range or the two ranges under ``each``; nothing where it is absent."""
    words = reader.words("each")
    if len(words) > MOST_RANGES:
        things = "ranges in one `each`"
        place = reader.place_of("each")
        log.add("D116", place, count=len(words), things=things, limit=MOST_RANGES)
        return ()
    return tuple(each for word in words if (each := parse_each(word, log)) is not None)


def read_named_frame(name: Word, node: Node, log: ProblemLog) -> FrameSource | None:
    """Return a frame of the section ``frames``."""
    named = parse_name(name, log)
    return None if named is None else _read_frame(named, node, name.place, log)


def read_own_frame(node: Node, place: Place, log: ProblemLog) -> FrameSource | None:
    """Return a frame written inside a part."""
    return _read_frame("", node, place, log)


def _read_frame(name: str, node: Node, place: Place, log: ProblemLog) -> FrameSource | None:
    entries = find_entries(node, log)
    if entries is None:
        return None
    reader = MappingReader(entries, log)
    frame = FrameSource(
        name=name,
        inside=reader.text("in"),
        each=find_each(reader, log) if name else (),
        at=find_point(reader, "at", log),
        turns=find_turns(reader, log),
        place=place,
        when=find_formula(reader, "when", log),
    )
    reader.finish()
    return frame
