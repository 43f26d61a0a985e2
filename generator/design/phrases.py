"""The small sentences of the language: directions, references, turns, edges, corners, prose."""

import re
from dataclasses import replace
from typing import get_args

from generator.formula.parse import parse_formula
from generator.formula.tree import Formula
from generator.model.edge_sources import (
    AgainstSource,
    BevelSource,
    CornerSource,
    EdgeSource,
    IntoSource,
    MitreSource,
    Reference,
)
from generator.model.edition import OPPOSITE, Direction
from generator.model.phrases import Each, Prose, Turn
from generator.problems import Place, ProblemLog, format_near_names
from generator.yaml_source.nodes import Word

SIDES: tuple[Direction, ...] = get_args(Direction)
WAYS: dict[str, Direction] = {
    "right": "right",
    "left": "left",
    "back": "back",
    "front": "front",
    "up": "top",
    "down": "bottom",
    "top": "top",
    "bottom": "bottom",
}
NAME = re.compile(r"[a-z][a-z0-9_]*")
_REFERENCE = re.compile(
    r"(?P<name>[a-z][a-z0-9_]*)(?:\[(?P<index>[^\]]*)\])?(?P<dots>(?:\.[a-z][a-z0-9_]*)*)"
)
_OUTSIDE_COMMA = re.compile(r",(?![^\[\]]*\])")
_BRACED = re.compile(r"\{([^{}\n]*)\}")
_WAY = "(" + "|".join(WAYS) + ")"
_STOP = rf"(.+?) +from +{_WAY}"
_INTO = re.compile(rf"into +(.+?) +by +(.+?)(?:[,;]? +stopped +{_STOP}(?: +and +{_STOP})?)?\s*")


def parse_name(word: Word, log: ProblemLog) -> str | None:
    """Return a name of the maker's; D110 where it is none."""
    if NAME.fullmatch(word.text):
        return word.text
    log.add("D110", word.place, text=word.text)
    return None


def parse_way(text: str, place: Place, log: ProblemLog) -> Direction | None:
    """Return a direction by its word; D107 where it is none."""
    if text.strip() in WAYS:
        return WAYS[text.strip()]
    hint = format_near_names(text.strip(), tuple(WAYS))
    log.add("D107", place, text=text.strip(), key=place.key.rpartition(".")[2], hint=hint)
    return None


def parse_part_formula(word: Word, start: int, end: int, log: ProblemLog) -> Formula | None:
    """Return the formula in a stretch of a word."""
    return parse_formula(word.text[start:end], _inside(word, start, end), log)


def parse_reference(word: Word, start: int, end: int, log: ProblemLog) -> Reference | None:
    """Return the reference in a stretch of a word; D114 where it is none."""
    raw = word.text[start:end]
    text = raw.strip()
    start += len(raw) - len(raw.lstrip())
    place = _inside(word, start, start + len(text))
    found = _REFERENCE.fullmatch(text)
    if found is None:
        log.add(
            "D114",
            place,
            text=text,
            expected="the name of a piece",
            hint="write it like `side`, `side.left`, `tray[2]` or `tray[*]`",
        )
        return None
    index = _parse_index(word, start + found.start("index"), found["index"], log)
    if index is None:
        return None
    return Reference(
        name=found["name"],
        index=index,
        dotted=tuple(found["dots"].split(".")[1:]),
        text=text,
        place=place,
    )


def parse_references(word: Word, start: int, end: int, log: ProblemLog) -> tuple[Reference, ...]:
    """Return the references in a stretch of a word, set apart by commas."""
    found = []
    at = start
    for piece in split_references(word.text[start:end]):
        reference = parse_reference(word, at, at + len(piece), log)
        if reference is not None:
            found.append(reference)
        at += len(piece) + 1
    return tuple(found)


def split_references(text: str) -> tuple[str, ...]:
    """Return a text cut at its commas, but not at those inside brackets."""
    return tuple(_OUTSIDE_COMMA.split(text))


def parse_each(word: Word, log: ProblemLog) -> Each | None:
    """Return ``tray in 1..trays``; D114 where the text says something else."""
    found = re.fullmatch(r"\s*([a-z][a-z0-9_]*) +in +(.+?)\.\.(.+)", word.text)
    if found is None:
        log.add(
            "D114",
            word.place,
            text=word.text,
            expected="a range",
            hint="write it like `tray in 1..trays`",
        )
        return None
    first = parse_part_formula(word, found.start(2), found.end(2), log)
    last = parse_part_formula(word, found.start(3), found.end(3), log)
    if first is None or last is None:
        return None
    return Each(variable=found[1], first=first, last=last, place=word.place)


def parse_turn(word: Word, log: ProblemLog) -> Turn | None:
    """Return ``12 deg about right``; D114 where the text says something else."""
    found = re.fullmatch(rf"(.+?) +about +{_WAY}\s*", word.text)
    if found is None:
        log.add(
            "D114",
            word.place,
            text=word.text,
            expected="a turn",
            hint="write it like `12 deg about right`",
        )
        return None
    angle = parse_part_formula(word, 0, found.end(1), log)
    return None if angle is None else Turn(angle=angle, about=WAYS[found[2]])


def parse_edge(word: Word, log: ProblemLog) -> EdgeSource | None:
    """Return what an edge is cut by; D114 where the text says nothing known."""
    text = word.text
    if text.startswith("against "):
        target = parse_reference(word, len("against "), len(text), log)
        return None if target is None else AgainstSource(target=target, place=word.place)
    if text.startswith("into "):
        return _parse_into(word, log)
    if text.startswith("mitre with "):
        target = parse_reference(word, len("mitre with "), len(text), log)
        return None if target is None else MitreSource(target=target, place=word.place)
    found = re.fullmatch(rf"bevel +(.+?),? +long +on +{_WAY}\s*", text)
    if found is not None:
        angle = parse_part_formula(word, found.start(1), found.end(1), log)
        if angle is None:
            return None
        return BevelSource(angle=angle, long_face=WAYS[found[2]], place=word.place)
    log.add(
        "D114",
        word.place,
        text=text,
        expected="what an edge is cut by",
        hint="write it like `against side`, `into side by 1/4 in`, `mitre with side` "
        "or `bevel 10 deg long on top`",
    )
    return None


def parse_corner(key: Word, word: Word, log: ProblemLog) -> CornerSource | None:
    """Return a worked corner; D114 where its name or its text says nothing known.

    Its condition, if it has one, is what follows ``when``.
    """
    names = key.text.split()
    edges = [WAYS[name] for name in names if name in WAYS]
    if len(names) != 2 or len(edges) != 2:
        log.add(
            "D114",
            key.place,
            text=key.text,
            expected="a corner",
            hint="name the two edges that meet there, like `top front`",
        )
        return None
    pair = (edges[0], edges[1])
    work, sign, _ = word.text.partition(" when ")
    when = None
    if sign:
        when = parse_part_formula(word, len(work) + len(sign), len(word.text), log)
        if when is None:
            return None
    if work.startswith("round "):
        radius = parse_part_formula(word, len("round "), len(work), log)
        if radius is None:
            return None
        return CornerSource(edges=pair, legs=None, radius=radius, place=word.place, when=when)
    found = _parse_legs(pair, work, word, log)
    return None if found is None else replace(found, when=when)


def parse_prose(word: Word, log: ProblemLog) -> Prose:
    """Return a text with its ``{formula}`` parts understood; faults inside braces are reported."""
    pieces: list[str | Formula] = []
    at = 0
    for found in _BRACED.finditer(word.text):
        pieces.append(word.text[at : found.start()])
        formula = parse_part_formula(word, found.start(1), found.end(1), log)
        if formula is not None:
            pieces.append(formula)
        at = found.end()
    pieces.append(word.text[at:])
    return Prose(pieces=tuple(piece for piece in pieces if piece != ""), place=word.place)


def _parse_index(
    word: Word, start: int, text: str | None, log: ProblemLog
) -> tuple[Formula | None, ...] | None:
    """Return the numbers in the brackets of a reference; None where one of them is at fault."""
    index: list[Formula | None] = []
    for piece in [] if text is None else re.split("[,;]", text):
        formula = None
        if piece.strip() != "*":
            formula = parse_part_formula(word, start, start + len(piece), log)
            if formula is None:
                return None
        index.append(formula)
        start += len(piece) + 1
    return tuple(index)


def _parse_into(word: Word, log: ProblemLog) -> IntoSource | None:
    found = _INTO.fullmatch(word.text)
    if found is None:
        log.add(
            "D114",
            word.place,
            text=word.text,
            expected="what an edge is housed in",
            hint="write it like `into side by 1/4 in` "
            "or `into side by 1/4 in, stopped 1 in from front`",
        )
        return None
    target = parse_reference(word, found.start(1), found.end(1), log)
    depth = parse_part_formula(word, found.start(2), found.end(2), log)
    told = [group for group in (3, 5) if found[group] is not None]
    sizes = [parse_part_formula(word, found.start(g), found.end(g), log) for g in told]
    stops = tuple(
        (WAYS[found[group + 1]], size)
        for group, size in zip(told, sizes, strict=True)
        if size is not None
    )
    if target is None or depth is None or len(stops) < len(told):
        return None
    return IntoSource(target=target, depth=depth, stops=stops, place=word.place)


def _parse_legs(
    pair: tuple[Direction, Direction], work: str, word: Word, log: ProblemLog
) -> CornerSource | None:
    found = re.fullmatch(rf"(clip|notch) +(.+?) +{_WAY} +by +(.+?) +{_WAY}\s*", work)
    if found is None:
        log.add(
            "D114",
            word.place,
            text=word.text,
            expected="work on a corner",
            hint="write it like `clip 10 in down by 9 in back`, `notch 2 in down by 1 in back` "
            "or `round 1 in`",
        )
        return None
    first = parse_part_formula(word, found.start(2), found.end(2), log)
    second = parse_part_formula(word, found.start(4), found.end(4), log)
    if first is None or second is None:
        return None
    legs = ((WAYS[found[3]], first), (WAYS[found[5]], second))
    away = {OPPOSITE[edge] for edge in pair}
    if {legs[0][0], legs[1][0]} != away:
        ways = " and ".join(sorted(_way_word(way) for way in away))
        log.add(
            "D114",
            word.place,
            text=word.text,
            expected=f"a {found[1]} of the corner `{pair[0]} {pair[1]}`",
            hint=f"from that corner a {found[1]} runs {ways}",
        )
        return None
    is_notch = found[1] == "notch"
    return CornerSource(edges=pair, legs=legs, radius=None, is_notch=is_notch, place=word.place)


def _way_word(way: Direction) -> str:
    return {"top": "up", "bottom": "down"}.get(way, way)


def _inside(word: Word, start: int, end: int) -> Place:
    """Return the place of a stretch of a word; of the whole word where it is spread over lines."""
    place = word.place
    begin = place.column - 1
    if place.text[begin : begin + end] != word.text[:end]:
        return place
    return place.shifted(start, max(1, end - start))
