"""How the trade says what a plan holds: the same words on drawings, in tables and on pages."""

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final

from generator.geometry.tolerance import SAME_PLANE_MM
from generator.model.assembly import Mark
from generator.model.catalogue import Tool
from generator.model.cutting import SettingKind
from generator.model.housing_words import count_housings
from generator.model.joinery import Fastener
from generator.model.parts import FACE_A, FACE_B, Edge, Opening, Part, Piece, Recess
from generator.model.strength import Load
from generator.units import (
    KG_PER_POUND,
    MM_PER_INCH,
    SHOWN_EXACT_MM,
    System,
    format_angle,
    format_fraction,
    format_length,
    inches,
)

NAME_SIGNS: Final = str.maketrans("._[]", "    ")
"""Signs of names in a design file that are no words."""

BIT_STEP: Final = 64
"""Inch drill bits are sold in 64ths: common practice, no source."""

TOOL_WORDS: Final[Mapping[SettingKind, str]] = {
    "channel": "saw or router",
    "round": "jigsaw",
    "bore": "drill",
    "jigsaw": "jigsaw",
}
"""What makes the cuts that are not straight through. Common practice, no source."""

BIT_MM: Final = 0.12
"""A bit bores at least this much wider or narrower than its name."""


FIRST_HOLES: Final = ("pocket", "clearance", "nail", "dowel")
"""Kinds of holes in the first piece of a joint; every fastener has one of them."""

SECOND_HOLES: Final = ("pilot", "dowel", "insert", "bolt")
"""Kinds of holes in the second piece of a joint; only pocket screws have none of them."""

FASTENER_WORDS: Final = ("screw", "nail", "dowel", "bolt")


def capital(text: str) -> str:
    """Return words with a capital at their beginning, the rest as it is."""
    return text[:1].upper() + text[1:]


def fasteners_word(fasteners: Iterable[Fastener]) -> str:
    """Return what holds: ``screws``, ``screws and nails``, ``screws, dowels and bolts``."""
    words = {one.goods.word for one in fasteners}
    return join_words([f"{word}s" for word in FASTENER_WORDS if word in words]) or "screws"


def count_fasteners(fasteners: Iterable[Fastener]) -> tuple[str, ...]:
    """Return how many of each there are, such as ``12 screws`` and ``1 nail``."""
    counts = Counter(one.goods.word for one in fasteners)
    return tuple(
        f"{counts[word]} {word}{'' if counts[word] == 1 else 's'}"
        for word in FASTENER_WORDS
        if counts[word]
    )


def join_words(words: Sequence[str], last: str = "and") -> str:
    """Return words in a row: ``screws``, ``screws and nails``, ``screws, dowels and bolts``."""
    return f" {last} ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)


def side_word(part: Part, side: int) -> str:
    """Return what a side of a part is called on its first piece: ``top``, ``left edge``."""
    if side == FACE_A:
        return f"{part.face_words[0]} face"
    if side == FACE_B:
        return f"{part.face_words[1]} face"
    return edge_word(part.edges[side])


def piece_side_word(piece: Piece, part: Part, side: int) -> str:
    """Return what a side is called on one piece, which may lie flipped in the whole."""
    for number, word in piece.words:
        if number == side:
            return f"{word} face" if side in {FACE_A, FACE_B} else f"{word} {part.edges[side].kind}"
    return side_word(part, side)


def edge_word(edge: Edge) -> str:
    """Return the name of an edge with what it is: ``front edge``, ``left end``."""
    return f"{edge.name} {edge.kind}"


def long_face_word(part: Part, edge: Edge) -> str:
    """Return the name of the face a bevel's long point is on; empty for a square edge."""
    if not edge.long_face:
        return ""
    return part.face_words[0] if edge.long_face == "A" else part.face_words[1]


def edge_work(part: Part, edge: Edge, system: System) -> str:
    """Return what is done at an edge beyond a square cut, or nothing.

    Such as ``front edge: blade tilted 12°, long point on the top face``.
    """
    work = []
    if edge.is_recess:
        return ""
    if edge.radius_mm > 0:
        work.append(f"rounded {format_length(edge.radius_mm, system)}")
    elif edge.kind == "corner":
        work.append(f"clipped, {format_angle(edge.mitre_deg)} off square")
    elif edge.mitre_deg > 0:
        base = "square" if edge.kind == "end" else "parallel"
        work.append(f"{format_angle(edge.mitre_deg)} off {base}")
    if edge.edging is not None and edge.is_plain:
        work.append("edging")
    if edge.tilt_deg > 0:
        face = long_face_word(part, edge)
        work.append(f"blade tilted {format_angle(edge.tilt_deg)}, long point on the {face} face")
    return f"{edge_word(edge)}: {', '.join(work)}" if work else ""


def setting_tool(kind: SettingKind, saw: Tool) -> str:
    """Return what makes the cuts of a setting; what runs straight is the saw's, by its key."""
    return TOOL_WORDS.get(kind, saw.key.replace("-", " "))


def bit_words(diameter_mm: float, system: System) -> str:
    """Return a drill bit as sold: ``11/64 in`` or ``4.5 mm``; in mm where no inch bit is near."""
    metric = f"{diameter_mm:.1f}".removesuffix(".0") + " mm"
    if system == "metric":
        return metric
    nearest = Fraction(round(inches(diameter_mm) * BIT_STEP), BIT_STEP)
    near = abs(float(nearest * MM_PER_INCH) - diameter_mm) <= BIT_MM
    return f"{format_fraction(nearest)} in" if near else metric


def recess_words(recess: Recess, system: System) -> str:
    """Return ``bottom arch, span 12 in, rise 2 in`` or ``top front notch, 2 in by 1 in``."""
    along, into = (format_length(size, system) for size in recess.sizes_mm)
    if recess.kind == "arch":
        return f"{recess.name} arch, span {along}, rise {into}"
    if " " in recess.name:
        edges = recess.name.split()
        return f"{recess.name} notch, {along} along the {edges[0]}, {into} along the {edges[1]}"
    return f"{recess.name} notch, {along} long, {into} deep"


def outline_words(part: Part) -> str:
    """Return ``free outline of 7 points, 2 arcs``."""
    arcs = sum(edge.kind == "arc" for edge in part.edges)
    words = f"free outline of {len(part.edges)} points"
    return words + (f", {arcs} arc{'' if arcs == 1 else 's'}" if arcs else "")


def opening_words(opening: Opening, system: System) -> str:
    """Return ``hole 3/4 in`` or ``cut-out 4 in × 2 in``."""
    name = "cut-out" if opening.name == "cutout" else opening.name
    return f"{name} {' × '.join(format_length(size, system) for size in opening.sizes_mm)}"


def part_work(part: Part, system: System) -> tuple[str, ...]:
    """Return everything done to the rectangle of a part but its bored holes, edge by edge."""
    edges = dict.fromkeys(edge_work(part, edge, system) for edge in part.edges)
    recesses = [recess_words(one, system) for one in part.recesses if one.kind != "outline"]
    if part.is_free:
        recesses.append(outline_words(part))
    openings = Counter(opening_words(opening, system) for opening in part.openings)
    counted = [text if count == 1 else f"{count} × {text}" for text, count in openings.items()]
    channels = count_housings(part, system)
    return tuple(text for text in (*edges, *recesses, *channels, *counted) if text)


def load_words(load: Load, system: System) -> str:
    """Return what is carried: ``25 lb per ft``, ``60 kg per sq m``, ``200 lb on one spot``."""
    mass, unit = load.mass_kg, str(load.per)
    if system == "imperial":
        metres = {"": 0, "m": 1, "sq m": 2}[load.per]
        mass *= float(12 * MM_PER_INCH / 1000) ** metres / float(KG_PER_POUND)
        unit = unit.replace("m", "ft")
    text = f"{mass:.1f}".removesuffix(".0") + (" kg" if system == "metric" else " lb")
    return f"{text} per {unit}" if unit else f"{text} on one spot" if load.on_spot else text


def plain_words(name: str) -> str:
    """Return a name of the design file as words: ``side left``, ``tray bottom 2``."""
    return " ".join(name.translate(NAME_SIGNS).split())


def mark_sentence(mark: Mark, part: Part, piece: Piece, system: System) -> str:
    """Return how to draw a layout line on a piece, in the words of that piece.

    A patch whose long sides run along the edge is told by distances from it; a slanted one by its
    corners.

    Args:
        mark: One of a step.
        part: The part it is drawn on.
        piece: The copy in question: the same edge is at the bottom of one, at the top of another.
        system: Of the lengths.
    """
    face = piece_side_word(piece, part, mark.side)
    if not mark.outline:
        start = _named_edge(mark, part, piece)
        return f"On the {face} draw {_lines(mark.from_mm, mark.to_mm, start, mark.mate, system)}"
    edge = _mark_edge(mark, part)
    values = [part.inset_mm(edge, mark.side, point) for point in mark.outline]
    if any(min(v - min(values), max(values) - v) > SAME_PLANE_MM for v in values):
        corners = "; ".join(_corners(mark, part, piece, system))
        return f"On the {face} mark these points and join them: {corners}. {mark.mate} goes inside."
    start = _named_edge(mark, part, piece)
    lines = _lines(mark.from_mm, mark.to_mm, start, mark.mate, system)
    axis = 0 if abs(edge.plane.normal[0]) > abs(edge.plane.normal[1]) else 1
    reach = _reach(mark, part, piece, 1 - axis, system)
    return f"On the {face}{reach} draw {lines}"


def _lines(near_mm: float, far_mm: float, edge: str, mate: str, system: System) -> str:
    near, far = format_length(near_mm, system), format_length(far_mm, system)
    if near_mm < SHOWN_EXACT_MM:
        return f"a line {far} from the {edge}; {mate} goes between line and edge."
    return f"lines {near} and {far} from the {edge}; {mate} goes between."


def _reach(mark: Mark, part: Part, piece: Piece, axis: int, system: System) -> str:
    """Return how far the lines run, where that is not all across the part.

    It is measured from the nearer of the two edges the lines run towards; from both where one of
    them slants, because a rule laid square to it would not run along the lines.
    """
    reaches = []
    for index in _opposite_edges(part)[axis]:
        insets = [part.inset_mm(part.edges[index], mark.side, point) for point in mark.outline]
        reaches.append((min(insets), max(insets), index))
    if all(low < part.thickness_mm / 2 for low, _, _ in reaches):
        return ""
    if any(part.edges[index].mitre_deg for _, _, index in reaches):
        stops = [
            f"{format_length(low, system)} inside the {piece_side_word(piece, part, index)}"
            for low, _, index in reaches
        ]
        return f", from {' to '.join(stops)},"
    low, high, index = min(reaches, key=lambda reach: round(reach[0], 3))
    if low < SHOWN_EXACT_MM:
        return (
            f", within {format_length(high, system)} of the {piece_side_word(piece, part, index)},"
        )
    return (
        f", between {format_length(low, system)} and {format_length(high, system)} "
        f"from the {piece_side_word(piece, part, index)},"
    )


def _named_edge(mark: Mark, part: Part, piece: Piece) -> str:
    for index, edge in enumerate(part.edges):
        if edge.name == mark.edge:
            return piece_side_word(piece, part, index)
    return f"{mark.edge} edge"


def _mark_edge(mark: Mark, part: Part) -> Edge:
    """Return the edge the distances of a mark are measured from."""
    return next((edge for edge in part.edges if edge.name == mark.edge), part.edges[0])


def _corners(mark: Mark, part: Part, piece: Piece, system: System) -> Iterator[str]:
    """Yield where the corners of a patch are, the same way round on every copy.

    The first is the one nearest to the end they are measured from; a long side follows.
    """
    edges = [index for index, _ in _opposite_edges(part)]
    points = [
        tuple(part.inset_mm(part.edges[index], mark.side, point) for index in edges)
        for point in mark.outline
    ]
    first = min(range(len(points)), key=lambda i: tuple(round(size, 3) for size in points[i]))
    points = points[first:] + points[:first]
    if math.dist(points[0], points[-1]) > math.dist(points[0], points[1]):
        points = points[:1] + points[:0:-1]
    names = [piece_side_word(piece, part, index) for index in edges]
    for sizes in points:
        yield " and ".join(
            f"{format_length(size, system)} from the {name}"
            for size, name in zip(sizes, names, strict=True)
        )


def _opposite_edges(part: Part) -> tuple[tuple[int, int], tuple[int, int]]:
    """Return the ends at least and greatest x, and the edges at least and greatest y."""

    def towards(axis: int, sign: float) -> int:
        kind = "end" if axis == 0 else "edge"
        sides = [side for side, edge in enumerate(part.edges) if edge.kind == kind]
        return max(sides, key=lambda side: part.edges[side].plane.normal[axis] * sign)

    return (towards(0, -1.0), towards(0, 1.0)), (towards(1, -1.0), towards(1, 1.0))
