"""What is cut out of a part: notches and arches in its edges, openings within them."""

from collections.abc import Sequence

from generator.design.phrases import WAYS
from generator.design.values import find_formula, read_formula
from generator.formula.tree import Formula
from generator.model.edge_sources import OpeningSource, RecessSource
from generator.model.edition import OPPOSITE, Direction, OpeningKind, RecessKind
from generator.problems import ProblemLog, format_near_names
from generator.yaml_source.getters import (
    MappingReader,
    find_comma_hint,
    find_entries,
    find_items,
)
from generator.yaml_source.nodes import Word

Ways = tuple[Direction, ...]
"""The sides of a part that are edges: two that end its length, then two that end its width."""

OPENINGS: tuple[OpeningKind, ...] = ("hole", "slot", "cutout")
RECESSES: tuple[RecessKind, ...] = ("notch", "arch")
SIZES_OF = {
    "slot": "its length and its width",
    "cutout": "its length and its width",
    "notch": "how long it is and how deep",
    "arch": "its span and its rise",
}


def parse_edge_name(word: Word, ways: Ways, log: ProblemLog) -> Direction | None:
    """Return an edge of a part by its word; D202 where the part has no such edge."""
    text = word.text.strip()
    if text in WAYS and WAYS[text] in ways:
        return WAYS[text]
    hint = format_near_names(text, ways) if text not in WAYS else None
    if hint is None:
        hint = f"the edges of this part are {', '.join(ways)}"
    log.add("D202", word.place, kind="edge", name=text, hint=hint)
    return None


def read_openings(reader: MappingReader, ways: Ways, log: ProblemLog) -> tuple[OpeningSource, ...]:
    """Return what is cut through a part: ``openings``."""
    found = [_read_opening(one, ways, log) for one in work_readers(reader, "openings", log)]
    return tuple(opening for opening in found if opening is not None)


def read_recesses(reader: MappingReader, ways: Ways, log: ProblemLog) -> tuple[RecessSource, ...]:
    """Return what is cut out of the edges of a part: ``cuts``."""
    found = [_read_recess(one, ways, log) for one in work_readers(reader, "cuts", log)]
    return tuple(recess for recess in found if recess is not None)


def work_readers(reader: MappingReader, key: str, log: ProblemLog) -> list[MappingReader]:
    """Return a reader for every mapping in the list under a key."""
    entries = [find_entries(node, log) for node in reader.items(key)]
    return [MappingReader(one, log) for one in entries if one is not None]


def read_distances(
    reader: MappingReader, ways: Ways, log: ProblemLog
) -> list[tuple[Direction, Formula]]:
    """Return what stands under ``from left`` and the like, in the order of the ways."""
    distances: list[tuple[Direction, Formula]] = []
    for way in ways:
        spoken = {"top": ("top", "up"), "bottom": ("bottom", "down")}.get(way, (way,))
        for key in (f"from {name}" for name in spoken):
            formula = find_formula(reader, key, log)
            if formula is not None:
                distances.append((way, formula))
    return distances


def _read_opening(reader: MappingReader, ways: Ways, log: ProblemLog) -> OpeningSource | None:
    """Return ``{hole: size, from left: x, from front: y}`` or the same with a slot or cut-out."""
    distances = read_distances(reader, ways, log)
    kinds = [kind for kind in OPENINGS if reader.has(kind)]
    sizes = [_read_sizes(reader, kind, log) for kind in kinds]
    along_word = reader.required_word("along") if kinds == ["cutout"] else reader.word("along")
    along = None if along_word is None else parse_edge_name(along_word, ways, log)
    radius = find_formula(reader, "round", log) if "cutout" in kinds else None
    when = find_formula(reader, "when", log)
    known = len(log.problems)
    reader.finish()
    if len(log.problems) > known or not _is_one(reader, kinds, "an opening", OPENINGS, log):
        return None
    if len(distances) != 2 or distances[0][0] in {distances[1][0], OPPOSITE[distances[1][0]]}:
        log.add(
            "D105",
            reader.place,
            key=f"from {ways[0]}",
            hint="measure the middle from two edges that meet: "
            f"`from {ways[0]}: …, from {ways[2]}: …`",
        )
        return None
    if sizes[0] is None or (along_word is not None and along is None):
        return None
    return OpeningSource(
        kind=kinds[0],
        sizes=sizes[0],
        radius=radius,
        along=along,
        distances=(distances[0], distances[1]),
        place=reader.place,
        when=when,
    )


def _read_recess(reader: MappingReader, ways: Ways, log: ProblemLog) -> RecessSource | None:
    """Return ``{arch: [span, rise], in: bottom, from left: x}`` or the same with a notch."""
    kinds = [kind for kind in RECESSES if reader.has(kind)]
    sizes = [_read_sizes(reader, kind, log) for kind in kinds]
    word = reader.required_word("in")
    edge = None if word is None else parse_edge_name(word, ways, log)
    across = () if edge is None else tuple(way for way in ways if way not in {edge, OPPOSITE[edge]})
    starts = read_distances(reader, across if across else ways, log)
    when = find_formula(reader, "when", log)
    known = len(log.problems)
    reader.finish()
    if len(log.problems) > known or not _is_one(reader, kinds, "a cut", RECESSES, log):
        return None
    if len(starts) > 1:
        first, second = (f"from {way}" for way, _ in starts[:2])
        hint = "say from one end where it begins; without either it is in the middle"
        log.add("D119", reader.place_of(second), first=first, second=second, hint=hint)
        return None
    if edge is None or sizes[0] is None or len(sizes[0]) != 2:
        return None
    return RecessSource(
        kind=kinds[0],
        sizes=(sizes[0][0], sizes[0][1]),
        edge=edge,
        start=starts[0] if starts else None,
        place=reader.place,
        when=when,
    )


def _read_sizes(reader: MappingReader, kind: str, log: ProblemLog) -> tuple[Formula, ...] | None:
    """Return the diameter of a hole, or the two sizes of anything else."""
    if kind == "hole":
        formula = find_formula(reader, kind, log)
        return None if formula is None else (formula,)
    node = reader.node(kind)
    expected = f"a list of two lengths: {SIZES_OF[kind]}"
    items = None if node is None else find_items(node, log, expected)
    if items is None:
        return None
    if len(items) != 2:
        found, place = f"a list of {len(items)}", reader.place_of(kind)
        hint = find_comma_hint(items)
        log.add("D106", place, key=kind, expected=expected, found=found, hint=hint)
        return None
    formulas = [read_formula(item, log) for item in items]
    if formulas[0] is None or formulas[1] is None:
        return None
    return (formulas[0], formulas[1])


def _is_one(
    reader: MappingReader, kinds: Sequence[str], what: str, known: Sequence[str], log: ProblemLog
) -> bool:
    """Whether exactly one kind of work is named; D105 and D119 where not."""
    if not kinds:
        listed = f"{', '.join(f'`{kind}`' for kind in known[:-1])} or `{known[-1]}`"
        log.add("D105", reader.place, key=known[0], hint=f"{what} is one of {listed}")
    elif len(kinds) > 1:
        log.add("D119", reader.place_of(kinds[1]), first=kinds[0], second=kinds[1])
    return len(kinds) == 1
