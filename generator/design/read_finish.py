"""The section ``finish``: words alone, or what is brushed on, in how many coats, and where."""

import re

from generator.design.phrases import parse_part_formula, parse_prose, parse_references
from generator.design.read_joints import find_prose
from generator.design.values import find_formula
from generator.model.design import CoversSource, FinishSource
from generator.model.edge_sources import Reference
from generator.model.phrases import Prose
from generator.problems import ProblemLog
from generator.units import AREA_UNITS, VOLUME_UNITS
from generator.yaml_source.getters import MappingReader, find_entries
from generator.yaml_source.nodes import Items, Node, Word

COVERS = rf"(.+?) *({'|'.join(AREA_UNITS)}) +per +({'|'.join(VOLUME_UNITS)})"


def read_finishes(reader: MappingReader, log: ProblemLog) -> tuple[Prose, tuple[FinishSource, ...]]:
    """Return the words under ``finish``, and each finish that is told with its coats."""
    node = reader.node("finish")
    if node is None or isinstance(node, Word):
        return find_prose(reader, "finish", log), ()
    items = node.items if isinstance(node, Items) else (node,)
    read = [one for item in items if (one := _read_finish(item, log)) is not None]
    return _together([says for says, _ in read], node), tuple(
        finish for _, finish in read if finish is not None
    )


def _read_finish(node: Node, log: ProblemLog) -> tuple[Prose, FinishSource | None] | None:
    entries = find_entries(node, log)
    if entries is None:
        return None
    reader = MappingReader(entries, log)
    item = reader.required_word("with")
    covers_word = reader.required_word("covers")
    covers = None if covers_word is None else _parse_covers(covers_word, log)
    on: list[Reference] = []
    for word in reader.words("on"):
        on += parse_references(word, 0, len(word.text), log)
    coats, says = find_formula(reader, "coats", log), find_prose(reader, "says", log)
    reader.finish()
    if item is None or covers is None:
        return says, None
    name = parse_prose(item, log)
    return says, FinishSource(item=name, coats=coats, covers=covers, on=tuple(on), place=item.place)


def _parse_covers(word: Word, log: ProblemLog) -> CoversSource | None:
    """Return ``10 m2 per litre``; D114 where the text says something else."""
    found = re.fullmatch(COVERS, word.text.strip())
    if found is None:
        log.add(
            "D114",
            word.place,
            text=word.text,
            expected="what a finish covers",
            hint="write it as it stands on the can: `10 m2 per litre`, `100 sq ft per quart` "
            "or `400 sq ft per gallon`",
        )
        return None
    amount = parse_part_formula(word, found.start(1), found.end(1), log)
    if amount is None:
        return None
    unit = AREA_UNITS[found[2]] / VOLUME_UNITS[found[3]]
    return CoversSource(amount=amount, unit_per_mm=unit)


def _together(texts: list[Prose], node: Node) -> Prose:
    """Return texts as paragraphs of one."""
    pieces = [piece for text in texts if text.pieces for piece in ("\n\n", *text.pieces)]
    return Prose(pieces=tuple(pieces[1:]), place=node.place)
