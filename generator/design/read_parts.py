"""The section ``parts``: how each part lies, is cut and is worked."""

from generator.design.phrases import (
    SIDES,
    WAYS,
    parse_corner,
    parse_edge,
    parse_name,
    parse_way,
)
from generator.design.read_loads import find_loads
from generator.design.read_outline import read_outline
from generator.design.read_pins import read_pins
from generator.design.read_work import parse_edge_name, read_openings, read_recesses
from generator.design.values import (
    find_each,
    find_formula,
    find_point,
    find_turns,
    read_formula,
    read_own_frame,
)
from generator.formula.tree import Formula
from generator.model.design import CopySource, FrameSource, PartSource
from generator.model.edge_sources import BevelSource, CornerSource, EdgeSource
from generator.model.edition import OPPOSITE, Direction, Grain
from generator.problems import Place, ProblemLog, format_near_names
from generator.yaml_source.getters import MappingReader, find_entries, find_word
from generator.yaml_source.nodes import Node, Word

GRAINS: dict[str, Grain] = {"along": "along", "either": "either"}
SHOWS = (*WAYS, "both", "outside", "inside")
POSITIVE: dict[str, Direction] = {"x": "right", "y": "back", "z": "top"}
AXIS_OF: dict[Direction, str] = {
    "right": "x",
    "left": "x",
    "back": "y",
    "front": "y",
    "top": "z",
    "bottom": "z",
}


def read_part(name: Word, node: Node, log: ProblemLog) -> PartSource | None:
    """Return one part, or None where a problem was reported that leaves nothing to go on with."""
    entries = find_entries(node, log)
    named = parse_name(name, log)
    if entries is None or named is None:
        return None
    reader = MappingReader(entries, log)
    stock = reader.required_word("from")
    runs = _read_runs(reader, log)
    frame, frame_place = _read_frame(reader, name.place, log)
    part = PartSource(
        name=named,
        title=reader.text("title", named.replace("_", " ").capitalize()),
        stock="" if stock is None else stock.text.strip(),
        stock_place=name.place if stock is None else stock.place,
        each=find_each(reader, log),
        length=find_formula(reader, "length", log),
        width=find_formula(reader, "width", log),
        runs=runs if runs is not None else ("right", "back", "top"),
        frame=frame,
        frame_place=frame_place,
        copies=_read_copies(reader, name.place, log),
        edges=_read_edges(reader, runs, log),
        corners=_read_corners(reader, runs, log),
        openings=read_openings(reader, _edge_ways(runs), log),
        recesses=read_recesses(reader, _edge_ways(runs), log),
        outline=read_outline(reader, log),
        pins=read_pins(reader, _edge_ways(runs), _faces(runs), log),
        edging=_read_edging(reader, runs, log),
        show=_read_show(reader, runs, log),
        show_place=reader.place_of("show"),
        grain=GRAINS[reader.choice("grain", tuple(GRAINS), "along") or "along"],
        place=name.place,
        when=find_formula(reader, "when", log),
        carries=find_loads(reader, log),
        sag=find_formula(reader, "sag", log),
    )
    reader.finish()
    return None if runs is None else part


def _read_runs(
    reader: MappingReader, log: ProblemLog
) -> tuple[Direction, Direction, Direction] | None:
    """Return the ways length, width and thickness run; the thickness goes right, back or up."""
    runs = reader.required_mapping("runs")
    if runs is None:
        return None
    ways: list[Direction | None] = []
    for key in ("length", "width"):
        word = runs.required_word(key)
        ways.append(None if word is None else parse_way(word.text, word.place, log))
    through = runs.word("thickness")
    depth = None if through is None else parse_way(through.text, through.place, log)
    runs.finish()
    length, width = ways
    if length is None or width is None or (through is not None and depth is None):
        return None
    if depth is None:
        free = [axis for axis in POSITIVE if axis not in {AXIS_OF[length], AXIS_OF[width]}]
        depth = POSITIVE[free[0]]
    if len({AXIS_OF[way] for way in (length, width, depth)}) < 3:
        why = f"length runs {length}, width {width} and thickness {depth}"
        log.add(
            "D118",
            reader.place_of("runs"),
            why=why,
            hint="give three ways that are square to each other, such as right, back and up",
        )
        return None
    return (length, width, depth)


def _read_frame(
    reader: MappingReader, place: Place, log: ProblemLog
) -> tuple[FrameSource | str | None, Place]:
    node = reader.node("frame")
    if node is None:
        return None, place
    if isinstance(node, Word):
        return node.text.strip(), node.place
    return read_own_frame(node, reader.place_of("frame"), log), reader.place_of("frame")


def _read_copies(reader: MappingReader, place: Place, log: ProblemLog) -> tuple[CopySource, ...]:
    corner = find_point(reader, "corner", log)
    turns = find_turns(reader, log)
    copies = []
    for name, node in reader.entries("at"):
        entries = find_entries(node, log)
        named = parse_name(name, log)
        if entries is not None and named is not None:
            copies.append(_read_copy(named, name.place, MappingReader(entries, log), log))
    if copies and (reader.has("corner") or reader.has("turn")):
        key = "corner" if reader.has("corner") else "turn"
        log.add(
            "D119",
            reader.place_of(key),
            first=key,
            second="at",
            hint=f"write `{key}` inside each of the places under `at`",
        )
    if copies:
        return tuple(copies)
    single = CopySource(name="", corner=corner, turns=turns, mirrors="", across=None, place=place)
    return (single,)


def _read_copy(name: str, place: Place, reader: MappingReader, log: ProblemLog) -> CopySource:
    corner, turns = find_point(reader, "corner", log), find_turns(reader, log)
    mirrors = reader.text("mirrors")
    across = _read_across(reader, log)
    if mirrors and across is None and not reader.has("across"):
        reader.report_missing("across", reader.place_of("mirrors"))
    if mirrors and (reader.has("corner") or reader.has("turn")):
        key = "corner" if reader.has("corner") else "turn"
        log.add("D119", reader.place_of(key), first=key, second="mirrors")
    when = find_formula(reader, "when", log)
    reader.finish()
    return CopySource(
        name=name,
        corner=corner,
        turns=turns,
        mirrors=mirrors,
        across=across,
        place=place,
        when=when,
    )


def _read_across(reader: MappingReader, log: ProblemLog) -> tuple[Direction, Formula] | None:
    entries = reader.entries("across")
    if not entries:
        return None
    if len(entries) != 1:
        log.add(
            "D106",
            reader.place_of("across"),
            key="across",
            expected="one direction and a length, such as {right: width / 2}",
            found=f"{len(entries)} of them",
        )
        return None
    word, node = entries[0]
    way, formula = parse_way(word.text, word.place, log), read_formula(node, log)
    return None if way is None or formula is None else (way, formula)


def _edge_ways(runs: tuple[Direction, Direction, Direction] | None) -> tuple[Direction, ...]:
    """Return the four sides of a part that are edges; all six where the runs are at fault."""
    if runs is None:
        return SIDES
    return (runs[0], OPPOSITE[runs[0]], runs[1], OPPOSITE[runs[1]])


def _faces(runs: tuple[Direction, Direction, Direction] | None) -> tuple[Direction, ...]:
    return () if runs is None else (OPPOSITE[runs[2]], runs[2])


def _read_edging(
    reader: MappingReader, runs: tuple[Direction, Direction, Direction] | None, log: ProblemLog
) -> tuple[tuple[Direction, str, Place], ...]:
    covered = []
    for key, node in reader.entries("edging"):
        way = parse_edge_name(key, _edge_ways(runs), log)
        word = find_word(node, log, "the edging, by its name under `stock`")
        if way is not None and word is not None:
            covered.append((way, word.text.strip(), word.place))
    return tuple(covered)


def _read_edges(
    reader: MappingReader, runs: tuple[Direction, Direction, Direction] | None, log: ProblemLog
) -> tuple[tuple[Direction, EdgeSource], ...]:
    edges = []
    for key, node in reader.entries("edges"):
        way = parse_edge_name(key, _edge_ways(runs), log)
        if way is None:
            continue
        word = find_word(node, log, "what the edge is cut by")
        rule = None if word is None else parse_edge(word, log)
        if rule is None:
            continue
        if (
            runs is not None
            and isinstance(rule, BevelSource)
            and rule.long_face in _edge_ways(runs)
        ):
            faces = f"{OPPOSITE[runs[2]]} and {runs[2]}"
            log.add(
                "D202",
                rule.place,
                kind="face",
                name=rule.long_face,
                hint=f"the faces of this part are {faces}",
            )
            continue
        edges.append((way, rule))
    return tuple(edges)


def _read_corners(
    reader: MappingReader, runs: tuple[Direction, Direction, Direction] | None, log: ProblemLog
) -> tuple[CornerSource, ...]:
    corners = []
    for key, node in reader.entries("corners"):
        word = find_word(node, log, "work on a corner")
        corner = None if word is None else parse_corner(key, word, log)
        if corner is None:
            continue
        ways = _edge_ways(runs)
        if not set(corner.edges) <= set(ways) or OPPOSITE[corner.edges[0]] == corner.edges[1]:
            log.add(
                "D202",
                key.place,
                kind="corner",
                name=key.text,
                hint=f"the edges of this part are {', '.join(ways)}",
            )
            continue
        corners.append(corner)
    return tuple(corners)


def _read_show(
    reader: MappingReader, runs: tuple[Direction, Direction, Direction] | None, log: ProblemLog
) -> str:
    word = reader.word("show")
    if word is None:
        return ""
    text = word.text.strip()
    if text not in SHOWS:
        hint = format_near_names(text, SHOWS)
        log.add("D107", word.place, text=text, key="show", hint=hint)
        return ""
    side = WAYS.get(text)
    if side is not None and side in _edge_ways(runs) and runs is not None:
        faces = f"{OPPOSITE[runs[2]]} and {runs[2]}"
        log.add(
            "D202",
            word.place,
            kind="face",
            name=text,
            hint=f"the faces of this part are {faces}",
        )
    return text if side is None else side
