"""Edging: which edges of which parts get it, and how much to buy."""

from generator.geometry.outlines import edge_length
from generator.model.fitting import EdgingNeed, EdgingRun
from generator.model.parts import Part, Parts
from generator.units import System, round_up_length

SPARE = 0.1
"""Of the length on the edges, bought more for ends and slips: common practice, no source."""


def find_edging(parts: Parts, system: System) -> tuple[EdgingNeed, ...]:
    """Return every edging that covers an edge, in the order of the parts."""
    runs = [run for part in parts.parts for run in _runs(part)]
    kinds = dict.fromkeys(run.edging for run in runs)
    needs = []
    for edging in kinds:
        own = tuple(run for run in runs if run.edging == edging)
        length = sum(run.length_mm * run.count for run in own)
        needs.append(
            EdgingNeed(
                edging=edging,
                runs=own,
                length_mm=length,
                buy_mm=round_up_length(length * (1 + SPARE), system),
            )
        )
    return tuple(needs)


def _runs(part: Part) -> list[EdgingRun]:
    """Return one run for each covered edge of a part; what notches leave of it is one run."""
    found: dict[str, list[int]] = {}
    for index, edge in enumerate(part.edges):
        if edge.edging is not None:
            found.setdefault(edge.name, []).append(index)
    runs = []
    for name, edges in found.items():
        edging = part.edges[edges[0]].edging
        assert edging is not None
        runs.append(
            EdgingRun(
                label=part.label,
                edge=name,
                edges=tuple(edges),
                edging=edging,
                length_mm=sum(_length(part, index) for index in edges),
                count=part.count,
            )
        )
    return runs


def _length(part: Part, index: int) -> float:
    """Return the length of an edge on the face on which it is longer."""
    faces = (part.slab.face_a, part.slab.face_b)
    return max(edge_length(*face.edges()[index]) for face in faces)
