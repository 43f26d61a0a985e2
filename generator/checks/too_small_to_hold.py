"""A cut too small to hold: what is sawn leaves no room for clamps and saw (C201).

The limits are common practice, no source: a hand-held saw stands on a base of about a hand's
width, and beside it there must be room for a clamp.
"""

from generator.geometry.tolerance import SAME_POINT_MM
from generator.model.cutting import Blank, Cut, Layout
from generator.model.parts import Part
from generator.model.plan import Plan
from generator.problems import Problem, make_problem
from generator.units import MM_PER_INCH, System, format_both

INCH_MM = float(MM_PER_INCH)
LEAST_MM: dict[System, tuple[float, float]] = {
    "imperial": (6 * INCH_MM, 2 * INCH_MM),
    "metric": (150.0, 50.0),
}
"""What is being sawn must be longer than the one, and one side of the cut wider than the other."""

Box = tuple[float, float, float, float]


def check_too_small_to_hold(plan: Plan) -> tuple[Problem, ...]:
    """Return a C201 for every part that is sawn from, or shaped on, too small a piece of wood."""
    system = plan.edition.system
    small: dict[str, tuple[float, float]] = {}
    for layout in plan.cutting.all_layouts():
        for label, size in _small_cuts(layout, system):
            small.setdefault(label, size)
    for blank in plan.cutting.blanks:
        size = (blank.length_mm, blank.width_mm)
        shaped = _is_sawn_later(plan.parts.part(blank.label))
        if shaped and not _can_hold(max(size), min(size), system):
            small.setdefault(blank.label, size)
    blanks = {blank.label: blank for blank in plan.cutting.blanks}
    return tuple(
        _problem(part, blanks[part.label], small[part.label], system)
        for part in plan.parts.parts
        if part.label in small
    )


def _can_hold(length_mm: float, room_mm: float, system: System) -> bool:
    least_length, least_room = LEAST_MM[system]
    return length_mm >= least_length - SAME_POINT_MM and room_mm >= least_room - SAME_POINT_MM


def _is_sawn_later(part: Part) -> bool:
    """Whether a straight saw cut follows once the blank is loose; rounds are filed or jigsawn."""
    return any(
        edge.radius_mm == 0 and (edge.tilt_deg > 0 or edge.mitre_deg > 0 or edge.kind == "corner")
        for edge in part.edges
    )


def _small_cuts(layout: Layout, system: System) -> list[tuple[str, tuple[float, float]]]:
    """Return the parts freed by a cut through too small a piece of sheet or board, and its size."""
    boxes: list[Box] = [(0.0, 0.0, layout.size.length_mm, layout.size.width_mm)]
    found = []
    for cut in layout.cuts:
        box = next((box for box in boxes if _crosses(cut, box)), None)
        if box is None:
            continue
        boxes.remove(box)
        sides = _split(cut, box, layout.kerf_mm)
        boxes += sides
        size = (box[2] - box[0], box[3] - box[1])
        if cut.kind != "trim" and not _can_hold(max(size), _room_mm(cut, sides), system):
            found += [(label, size) for label in _labels_in(layout, box)]
    return found


def _runs_along_x(cut: Cut) -> bool:
    return abs(cut.end[0] - cut.start[0]) > abs(cut.end[1] - cut.start[1])


def _crosses(cut: Cut, box: Box) -> bool:
    along = 0 if _runs_along_x(cut) else 1
    across = 1 - along
    middle = (cut.start[along] + cut.end[along]) / 2
    at = cut.start[across]
    return box[along] <= middle <= box[along + 2] and box[across] <= at <= box[across + 2]


def _split(cut: Cut, box: Box, kerf_mm: float) -> tuple[Box, Box]:
    x0, y0, x1, y1 = box
    half = kerf_mm / 2
    if _runs_along_x(cut):
        at = cut.start[1]
        return (x0, y0, x1, at - half), (x0, at + half, x1, y1)
    at = cut.start[0]
    return (x0, y0, at - half, y1), (at + half, y0, x1, y1)


def _room_mm(cut: Cut, sides: tuple[Box, Box]) -> float:
    """Return how wide the larger side of the cut is: it is clamped and carries the saw."""
    across = 1 if _runs_along_x(cut) else 0
    return max(side[across + 2] - side[across] for side in sides)


def _labels_in(layout: Layout, box: Box) -> list[str]:
    return [
        one.label
        for one in layout.placements
        if box[0] - SAME_POINT_MM <= one.x_mm
        and one.x_mm + one.along_x_mm <= box[2] + SAME_POINT_MM
        and box[1] - SAME_POINT_MM <= one.y_mm
        and one.y_mm + one.along_y_mm <= box[3] + SAME_POINT_MM
    ]


def _problem(part: Part, blank: Blank, size: tuple[float, float], system: System) -> Problem:
    shown = " × ".join(format_both(value, system) for value in size)
    return make_problem(
        "C201",
        part.place,
        part=part.name,
        size=shown,
        length=format_both(LEAST_MM[system][0], system),
        width=format_both(LEAST_MM[system][1], system),
        hint=_hint(part, blank, system),
    )


def _hint(part: Part, blank: Blank, system: System) -> str:
    board = part.stock.board
    if board is not None and board.width_mm - blank.width_mm > SAME_POINT_MM:
        return "rip it from a wider board, or take a board that is as wide as it is"
    if part.count > 1 and blank.width_mm >= LEAST_MM[system][1]:
        return "make it larger, or saw the copies as one long piece and part them last"
    least = format_both(max(LEAST_MM[system][0], 2 * blank.length_mm), system)
    return f"make it larger, or shape it at the end of a piece {least} long and cut it off last"
