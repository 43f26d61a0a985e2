"""The section ``hardware``: what is fitted to which pieces, where, and with which screws."""

from generator.design.phrases import (
    SIDES,
    parse_name,
    parse_prose,
    parse_references,
    parse_way,
)
from generator.design.read_joints import find_prose, read_keys
from generator.design.read_work import read_distances, work_readers
from generator.design.values import find_each, find_formula
from generator.formula.tree import Formula
from generator.model.design import HardwareSource
from generator.model.edge_sources import Reference
from generator.model.edition import OPPOSITE, Direction
from generator.problems import Place, ProblemLog
from generator.yaml_source.getters import MappingReader, find_entries
from generator.yaml_source.nodes import Node, Word

Spot = tuple[tuple[Direction, Formula], tuple[Direction, Formula], Place]


def read_hardware(name: Word, node: Node, log: ProblemLog) -> HardwareSource | None:
    """Return hardware of one kind, or None where a problem leaves nothing to go on with."""
    entries, named = find_entries(node, log), parse_name(name, log)
    if entries is None or named is None:
        return None
    reader = MappingReader(entries, log)
    item, on = reader.required_word("item"), _read_on(reader, log)
    face_word = reader.word("face")
    places = _read_places(reader, log)
    screws, screws_place = read_keys(reader, "screw", log)
    hardware = HardwareSource(
        name=named,
        item=parse_prose(name if item is None else item, log),
        on=on,
        face=None if face_word is None else parse_way(face_word.text, face_word.place, log),
        face_place=reader.place_of("face"),
        each=find_each(reader, log),
        places=places,
        count=find_formula(reader, "count", log),
        screws=screws,
        screws_place=screws_place,
        screw_count=find_formula(reader, "screws", log),
        is_anchor=reader.yes_no("wall", default=False),
        note=find_prose(reader, "note", log),
        place=name.place,
        when=find_formula(reader, "when", log),
    )
    _check_told_once(reader, log)
    reader.finish()
    return None if item is None or not on else hardware


def _read_on(reader: MappingReader, log: ProblemLog) -> tuple[Reference, ...]:
    found: list[Reference] = []
    for word in reader.words("on"):
        found += parse_references(word, 0, len(word.text), log)
    if not reader.has("on"):
        hint = "name the pieces it is fitted to; what is only bought stands under `buy`"
        reader.report_missing("on", reader.place, hint)
    return tuple(found)


def _read_places(reader: MappingReader, log: ProblemLog) -> tuple[Spot, ...]:
    spots = [_read_spot(one, log) for one in work_readers(reader, "places", log)]
    if reader.has("places") and not reader.has("face"):
        hint = "name the face they are measured on, such as `face: front`"
        reader.report_missing("face", reader.place_of("places"), hint)
    return tuple(spot for spot in spots if spot is not None)


def _read_spot(reader: MappingReader, log: ProblemLog) -> Spot | None:
    distances = read_distances(reader, SIDES, log)
    reader.finish()
    if len(distances) != 2 or distances[0][0] in {distances[1][0], OPPOSITE[distances[1][0]]}:
        log.add(
            "D105",
            reader.place,
            key="from left",
            hint="measure from two edges that meet, such as `from left: …, from top: …`",
        )
        return None
    return (distances[0], distances[1], reader.place)


def _check_told_once(reader: MappingReader, log: ProblemLog) -> None:
    """Report a D119 where the number is told and follows from the places as well."""
    if reader.has("count") and reader.has("places"):
        log.add("D119", reader.place_of("count"), first="count", second="places")
    if reader.has("each") and not reader.has("places"):
        hint = "say where each goes under `places`, or how many there are with `count`"
        reader.report_missing("places", reader.place_of("each"), hint)
