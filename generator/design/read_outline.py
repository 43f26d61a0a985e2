"""Free outlines: ``outline``, a list of points with the arcs that lead to them."""

from generator.design.values import find_formula, read_formula
from generator.formula.tree import Formula
from generator.model.outline_points import OutlinePointSource
from generator.problems import ProblemLog
from generator.yaml_source.getters import MappingReader, find_comma_hint, find_items
from generator.yaml_source.nodes import Entries, Node

INSTEAD_OF = ("length", "width", "edges", "corners", "cuts")
"""What an outline says already."""

ARCS = ("rise", "radius", "through")
EXPECTED = "two lengths: along the length and along the width"
MOST_POINTS = 100


def read_outline(reader: MappingReader, log: ProblemLog) -> tuple[OutlinePointSource, ...]:
    """Return the points of a part's outline in their order; nothing where there is none."""
    nodes = reader.items("outline")
    if reader.has("outline"):
        for key in INSTEAD_OF:
            if reader.has(key):
                log.add("D119", reader.place_of(key), first="outline", second=key)
    if len(nodes) > MOST_POINTS:
        place = reader.place_of("outline")
        log.add("D116", place, count=len(nodes), things="points", limit=MOST_POINTS)
        return ()
    found = [_read_point(node, log) for node in nodes]
    return tuple(point for point in found if point is not None)


def _read_point(node: Node, log: ProblemLog) -> OutlinePointSource | None:
    if not isinstance(node, Entries):
        to = _read_pair(node, "outline", log)
        if to is None:
            return None
        return OutlinePointSource(to=to, rise=None, radius=None, through=None, place=node.place)
    reader = MappingReader(node, log)
    to_node, through_node = reader.required("to"), reader.node("through")
    to = None if to_node is None else _read_pair(to_node, "to", log)
    through = None if through_node is None else _read_pair(through_node, "through", log)
    given = [key for key in ARCS if reader.has(key)]
    if len(given) > 1:
        log.add("D119", reader.place_of(given[1]), first=given[0], second=given[1])
    point = None
    rise, radius = find_formula(reader, "rise", log), find_formula(reader, "radius", log)
    if to is not None:
        point = OutlinePointSource(
            to=to, rise=rise, radius=radius, through=through, place=reader.place
        )
    reader.finish()
    return point


def _read_pair(node: Node, key: str, log: ProblemLog) -> tuple[Formula, Formula] | None:
    items = find_items(node, log, f"a list of {EXPECTED}")
    if items is None:
        return None
    if len(items) != 2:
        found, hint = f"a list of {len(items)}", find_comma_hint(items)
        expected = f"a list of {EXPECTED}"
        log.add("D106", node.place, key=key, expected=expected, found=found, hint=hint)
        return None
    first, second = (read_formula(item, log) for item in items)
    return None if first is None or second is None else (first, second)
