"""How a builder is told where hardware goes: distances from two edges of a face, row by row."""

import itertools
from collections.abc import Sequence

from generator.geometry.tolerance import SAME_PLANE_MM
from generator.model.hardware import Mounted
from generator.model.parts import Part, Piece
from generator.model.words import piece_side_word, plain_words
from generator.units import System, format_length, format_size


def hardware_sentences(
    mounted: Sequence[Mounted], part: Part, piece: Piece, system: System
) -> tuple[str, ...]:
    """Return where the hardware of one piece goes, what stands in a row in one sentence.

    Such as ``3 × hook, on the front face: 62 mm from the top edge and 100 mm, then every 200 mm,
    from the left end``.
    """
    rows: dict[tuple[str, int, tuple[int, int]], list[Mounted]] = {}
    for one in mounted:
        edges = (one.distances[0][0], one.distances[1][0])
        rows.setdefault((one.name, one.side, edges), []).append(one)
    return tuple(
        _sentence(line, part, piece, system) for row in rows.values() for line in _lines(row)
    )


def _lines(row: list[Mounted]) -> list[list[Mounted]]:
    """Return a row whole where all of it is equally far from one edge, else one by one."""
    for axis in (0, 1):
        values = [one.distances[axis][1] for one in row]
        if max(values) - min(values) < SAME_PLANE_MM:
            return [row]
    return [[one] for one in row]


def _sentence(line: list[Mounted], part: Part, piece: Piece, system: System) -> str:
    face = piece_side_word(piece, part, line[0].side)
    places = []
    for axis in (0, 1):
        edge = piece_side_word(piece, part, line[0].distances[axis][0])
        sizes: list[float] = []
        for one in line:
            value = one.distances[axis][1]
            if not any(abs(value - size) < SAME_PLANE_MM for size in sizes):
                sizes.append(value)
        places.append((len(sizes), f"{_sizes_words(sizes, system)} from the {edge}"))
    ordered = " and ".join(text for _, text in sorted(places, key=lambda place: place[0]))
    count = f"{len(line)} × " if len(line) > 1 else ""
    return f"{count}{plain_words(line[0].name)}, on the {face}: {ordered}"


def _sizes_words(sizes: list[float], system: System) -> str:
    """Return ``100 mm``, ``100, 300 mm``, or ``100 mm, then every 200 mm`` for a regular row."""
    ordered = sorted(sizes)
    steps = [after - before for before, after in itertools.pairwise(ordered)]
    if len(ordered) > 2 and max(steps) - min(steps) < SAME_PLANE_MM:
        step = format_length(steps[0], system)
        return f"{format_length(ordered[0], system)}, then every {step},"
    texts = [format_size(size, system) for size in ordered[:-1]]
    return ", ".join([*texts, format_length(ordered[-1], system)])
