"""Screws, holes and steps of assembly, as tables and sentences."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from generator.model.artifacts import Picture
from generator.model.assembly import Mark, Step
from generator.model.housing_words import find_channel_word
from generator.model.joinery import BoredHole, Fastener
from generator.model.parts import Part, Piece
from generator.model.plan import Plan
from generator.model.words import (
    FASTENER_WORDS,
    FIRST_HOLES,
    SECOND_HOLES,
    bit_words,
    fasteners_word,
    join_words,
    mark_sentence,
    piece_side_word,
    plain_words,
)
from generator.model.work import find_drawn
from generator.telling.fitting_tables import step_hardware
from generator.telling.tables import Table, make_table
from generator.units import format_length


@dataclass(frozen=True, slots=True, kw_only=True)
class StepView:
    """One step of assembly as the page tells it.

    Attributes:
        takes: Parts that go on, such as ``1 × B Bottom``.
        screws: Such as ``4 × 4 × 50 mm wood screw: shelf (B) to side left, side right (A)``.
        driven: What these are in a word: screws, nails, or both.
        hardware: What is fitted, on what, with which screws, and where.
        pins: Such as ``16 shelf pins, 5 mm: 4 for each D Shelf``.
        glued: Pairs that are glued, in words.
        marks: Layout lines to draw first: pieces, and sentences for each of them.
        joins: Sub-assemblies that go on.
    """

    order: int
    title: str
    apart: str
    joins: tuple[str, ...]
    takes: tuple[str, ...]
    screws: tuple[str, ...]
    driven: str
    pins: tuple[str, ...]
    hardware: tuple[str, ...]
    glued: tuple[str, ...]
    marks: tuple[tuple[str, tuple[str, ...]], ...]
    says: str
    cautions: tuple[str, ...]
    picture: Picture

    @property
    def fits(self) -> tuple[str, ...]:
        """What goes on: parts, and sub-assemblies of before."""
        return (*self.takes, *(f"the {name} built before" for name in self.joins))


FEW_PAIRS = 3
"""So many pairs of pieces of the same two parts are named one by one."""


def make_screws(plan: Plan) -> Table:
    """Return one row for each joint and screw: how many, through what into what, which bits."""
    groups: dict[tuple[str, str], list[Fastener]] = {}
    for fastener in plan.joinery.fasteners:
        groups.setdefault((fastener.joint, fastener.goods.name), []).append(fastener)
    rows = (_screw_row(plan, group) for group in groups.values())
    what = fasteners_word(plan.joinery.fasteners)
    words = {one.goods.word: None for one in plan.joinery.fasteners}
    one = join_words([word for word in FASTENER_WORDS if word in words], "or")
    both = (f"{what.capitalize()}#", one.capitalize())
    second = "Pilot hole" if words.keys() <= {"screw", "nail"} else "Second hole"
    head = ("Joint", *both, "From@", "Into@", "First hole", second, "Heads")
    return make_table(f"{what.capitalize()} by joint", head, rows)


def make_holes(plan: Plan) -> Table:
    """Return one row for each part, kind and size of hole that is bored."""
    drawn = find_drawn(plan)
    rows = (row for part in plan.parts.parts for row in _hole_rows(plan, part, drawn))
    head = ("Part@", "Name", "Holes#", "Kind", "Bored from", "Bit", "Depth", "Countersink")
    return make_table("Holes by part; the part drawings say where", head, rows)


def has_inserts(plan: Plan) -> bool:
    """Whether bolts go into threaded inserts."""
    return any(hole.kind == "insert" for hole in plan.joinery.holes)


def has_pin_holes(plan: Plan) -> bool:
    """Whether rows of holes for shelf pins are bored."""
    return any(hole.kind == "pin" for hole in plan.joinery.holes)


def make_steps(plan: Plan, pictures: Sequence[Picture]) -> tuple[StepView, ...]:
    """Return the steps of assembly with their pictures."""
    told: set[Mark] = set()
    drawn = find_drawn(plan)
    views = []
    for step, picture in zip(plan.assembly.steps, pictures, strict=True):
        marks = tuple(mark for mark in step.marks if mark not in told)
        told.update(marks)
        views.append(_step_view(plan, step, _step_marks(plan, marks, drawn), picture))
    return tuple(views)


def _step_view(
    plan: Plan, step: Step, marks: tuple[tuple[str, tuple[str, ...]], ...], picture: Picture
) -> StepView:
    return StepView(
        order=step.order,
        title=step.title,
        apart=step.apart,
        joins=step.joins,
        takes=_takes(plan, step),
        screws=_step_screws(plan, step),
        driven=fasteners_word([plan.joinery.fastener(name) for name in step.fasteners]),
        pins=_step_pins(plan, step),
        glued=_glue_lines(plan, step),
        hardware=step_hardware(plan, step),
        marks=marks,
        says=step.says,
        cautions=step.cautions,
        picture=picture,
    )


def _glue_lines(plan: Plan, step: Step) -> tuple[str, ...]:
    """Return what is glued to what; more than a few pairs of the same two parts in one line."""
    pieces = {piece.name: piece for piece in plan.parts.pieces()}
    alike: dict[tuple[str, str, str], list[tuple[str, str]]] = {}
    for first, second in step.glued:
        channel = find_channel_word(plan, first, second)
        labels = (pieces[first].label, pieces[second].label)
        alike.setdefault((*labels, channel), []).append((first, second))
    lines = []
    for (one, other, channel), pairs in alike.items():
        if len(pairs) <= FEW_PAIRS:
            lines += [_glue_line(plan, *pair) for pair in pairs]
            continue
        names = [f"{label} {plan.parts.part(label).title}" for label in (one, other)]
        place = f", in the {channel}s" if channel else ""
        lines.append(f"{' to '.join(names)}{place}: {len(pairs)} times")
    return tuple(lines)


def _glue_line(plan: Plan, first: str, second: str) -> str:
    """Return ``shelf (C) to side left (A), in the dado``."""
    line = f"{piece_words(plan, first)} to {piece_words(plan, second)}"
    channel = find_channel_word(plan, first, second)
    return f"{line}, in the {channel}" if channel else line


def piece_words(plan: Plan, name: str) -> str:
    """Return a piece with the label of its part: ``side left (A)``."""
    piece = next(one for one in plan.parts.pieces() if one.name == name)
    return f"{plain_words(name)} ({piece.label})"


def _takes(plan: Plan, step: Step) -> tuple[str, ...]:
    labels = plan.parts.labels()
    counts = Counter(labels[name] for name in step.pieces)
    return tuple(
        f"{counts[part.label]} × {part.label} {part.title}"
        for part in plan.parts.parts
        if counts[part.label]
    )


def _step_screws(plan: Plan, step: Step) -> tuple[str, ...]:
    """Return how many of each go through which pieces into which; only those of this step."""
    labels = plan.parts.labels()
    groups: dict[tuple[str, ...], list[Fastener]] = {}
    for name in step.fasteners:
        one = plan.joinery.fastener(name)
        key = (one.goods.name, *(labels[piece] for piece in one.through[:-1]))
        groups.setdefault(key, []).append(one)
    return tuple(
        f"{len(group)} × {group[0].goods.name}: {_ways_words(plan, group)}"
        for group in groups.values()
    )


def _ways_words(plan: Plan, group: Sequence[Fastener]) -> str:
    """Return ``bottom (B) to side left, side right (A)``, with ``through`` what lies between."""
    layers = zip(*(one.through[:-1] for one in group), strict=True)
    first, *between = (_pieces_words(plan, layer) for layer in layers)
    through = "".join(f" through {words}" for words in between)
    return f"{first}{through} to {_pieces_words(plan, (one.through[-1] for one in group))}"


def _pieces_words(plan: Plan, names: Iterable[str]) -> str:
    """Return pieces, those of one part before its label; more than a few of one only counted."""
    labels = plan.parts.labels()
    together: dict[str, list[str]] = {}
    for name in dict.fromkeys(names):
        together.setdefault(labels[name], []).append(name)
    return ", ".join(
        f"{', '.join(map(plain_words, pieces))} ({label})"
        if len(pieces) <= FEW_PAIRS
        else f"{len(pieces)} × {label} {plan.parts.part(label).title}"
        for label, pieces in together.items()
    )


def _step_pins(plan: Plan, step: Step) -> tuple[str, ...]:
    """Return the shelf pins that go in before the pieces that lie on them, part by part."""
    labels = plan.parts.labels()
    counts = Counter(
        (labels[rest.piece], len(rest.pins), rest.pins[0].diameter_mm)
        for rest in plan.joinery.rests
        if rest.piece in step.pieces
    )
    return tuple(
        f"{each * pieces} shelf pins, {bit_words(diameter_mm, plan.edition.system)}: "
        f"{each} for each {label} {plan.parts.part(label).title}"
        for (label, each, diameter_mm), pieces in counts.items()
    )


def _step_marks(
    plan: Plan, marks: tuple[Mark, ...], drawn: Mapping[str, Piece]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the sentences for each piece, in the words of its drawing, equal ones together."""
    lines: dict[str, dict[str, None]] = {}
    for mark in marks:
        part = plan.parts.part(mark.label)
        for name in mark.copies:
            sentence = mark_sentence(mark, part, drawn[name], plan.edition.system)
            lines.setdefault(name, {})[sentence] = None
    together: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for name, sentences in lines.items():
        together.setdefault((drawn[name].label, tuple(sentences)), []).append(plain_words(name))
    return tuple(
        (f"{', '.join(names)} ({label})", sentences)
        for (label, sentences), names in together.items()
    )


def _screw_row(plan: Plan, group: list[Fastener]) -> Sequence[object]:
    bits = {
        hole.kind: bit_words(hole.diameter_mm, plan.edition.system)
        for hole in plan.joinery.holes
        if hole.fastener == group[0].id
    }
    heads = {one.hidden for one in group}
    seen = "hidden" if heads == {True} else "seen" if heads == {False} else "some are seen"
    seen = "inside" if group[0].goods.kind == "dowel" else seen
    return (
        plain_words(group[0].joint),
        len(group),
        group[0].goods.name,
        _labels(plan, (one.through[0] for one in group)),
        _labels(plan, (one.through[-1] for one in group)),
        next((bits[kind] for kind in FIRST_HOLES if kind in bits), "none"),
        next((bits[kind] for kind in SECOND_HOLES if kind in bits), "none"),
        seen,
    )


def _labels(plan: Plan, names: Iterable[str]) -> str:
    labels = plan.parts.labels()
    return ", ".join(dict.fromkeys(labels[name] for name in names))


def _hole_rows(plan: Plan, part: Part, drawn: Mapping[str, Piece]) -> Iterable[Sequence[object]]:
    system = plan.edition.system
    names = {piece.name for piece in part.pieces}
    groups: dict[tuple[str, ...], int] = {}
    for hole in plan.joinery.holes:
        if hole.piece in names:
            depth = "through" if hole.depth_mm is None else format_length(hole.depth_mm, system)
            row = (
                "shelf pin" if hole.kind == "pin" else hole.kind,
                piece_side_word(drawn[hole.piece], part, hole.side),
                bit_words(hole.diameter_mm, system),
                _depth(hole, depth),
                format_length(hole.countersink_mm, system) if hole.countersink_mm else "",
            )
            groups[row] = groups.get(row, 0) + 1
    return ((part.label, part.title, count, *row) for row, count in groups.items())


def _depth(hole: BoredHole, depth: str) -> str:
    """Pockets are as deep as the collar on their bit is set."""
    return f"{depth}, set by the jig's collar" if hole.kind == "pocket" else depth
