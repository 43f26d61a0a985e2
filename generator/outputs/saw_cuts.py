"""Which edges are sawn with one tilt and one angle, and how each lies under the saw.

A part lies with the face of the long point up, and the piece that is kept to the left:

          keep | waste          seen from above, an angle leans left or right;
    __________/                 an upright cut may be made from either face, so that its
              long point        angle can always lean to the left
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.geometry.vectors import Vec2
from generator.model.cutting import Setting
from generator.model.parts import Edge, Part
from generator.model.plan import Plan
from generator.model.words import edge_word, long_face_word

Lean = Literal["", "left", "right"]
"""Where the far end of an angled cut leads, seen from above with the kept piece to the left."""

DRAWN_KINDS = ("bevel", "angle")


@dataclass(frozen=True, slots=True)
class SawnEdge:
    """An edge as it lies under the saw.

    Attributes:
        part: The part it belongs to.
        index: Of the edge.
        up: What the face that lies up is called; "" for an upright cut, where either may.
    """

    part: Part
    index: int
    up: str
    lean: Lean

    @property
    def edge(self) -> Edge:
        """The edge itself."""
        return self.part.edges[self.index]

    @property
    def name(self) -> str:
        """What is sawn: ``back edge``, ``top front corner``."""
        return edge_word(self.edge)

    @property
    def words(self) -> str:
        """What is sawn of which part, and which face lies up."""
        face = f", {self.up} face up" if self.up else ""
        return f"{self.part.label}: {self.name}{face}"


@dataclass(frozen=True, slots=True)
class SawCut:
    """All edges that are sawn with one tilt and one angle.

    Attributes:
        tilt_deg: Of the blade, from square.
        angle_deg: In the face, off square, or off parallel where it is `is_rip`.
        settings: Numbers of the settings that it takes.
        edges: In the order of the settings.
        is_rip: Whether it runs along the pieces.
    """

    tilt_deg: float
    angle_deg: float
    settings: tuple[int, ...]
    edges: tuple[SawnEdge, ...]
    is_rip: bool


def find_saw_cuts(plan: Plan) -> tuple[SawCut, ...]:
    """Return every tilt and angle of a plan once, in the order of the settings."""
    found: dict[tuple[float, float, bool], tuple[list[int], list[SawnEdge]]] = {}
    for setting in plan.cutting.settings:
        if setting.kind in DRAWN_KINDS and (setting.tilt_deg or setting.mitre_deg):
            for sawn in _edges_of(plan, setting):
                is_rip = sawn.edge.kind == "edge" and bool(setting.mitre_deg)
                key = (round(setting.tilt_deg, 1), round(setting.mitre_deg, 1), is_rip)
                orders, edges = found.setdefault(key, ([], []))
                orders.append(setting.order)
                edges.append(sawn)
    return tuple(
        SawCut(tilt, angle, tuple(dict.fromkeys(orders)), tuple(dict.fromkeys(edges)), is_rip)
        for (tilt, angle, is_rip), (orders, edges) in found.items()
    )


def _edges_of(plan: Plan, setting: Setting) -> Iterator[SawnEdge]:
    """Return the edges that are sawn with a setting: of its parts, those with its angles."""
    for label in setting.pieces:
        part = plan.parts.part(label)
        for index, edge in enumerate(part.edges):
            if _is_sawn_with(edge, setting):
                yield _lay(part, index, setting)


def _is_sawn_with(edge: Edge, setting: Setting) -> bool:
    if round(edge.mitre_deg, 1) != round(setting.mitre_deg, 1) or edge.radius_mm:
        return False
    if setting.kind == "bevel":
        return edge.is_plain and round(edge.tilt_deg, 1) == round(setting.tilt_deg, 1)
    return not edge.is_recess if not edge.is_plain else not edge.tilt_deg


def _lay(part: Part, index: int, setting: Setting) -> SawnEdge:
    edge = part.edges[index]
    if setting.kind == "angle":
        return SawnEdge(part, index, "", "left")
    lean: Lean = ""
    if setting.mitre_deg:
        lean = "left" if lean_deg(edge) > 0 else "right"
    return SawnEdge(part, index, long_face_word(part, edge), lean)


def lean_deg(edge: Edge) -> float:
    """Return how far an edge leans to the left, seen from above with its long face up.

    The kept piece lies to the left; more than 0 where the far end of the cut leads to the left.
    """
    normal = (edge.plane.normal[0], edge.plane.normal[1])
    outward = _side(edge)
    # From face A one looks along z, from face B against it: left and right are exchanged.
    turn = 1.0 if edge.long_face != "A" else -1.0
    ahead = normal[0] * outward[0] + normal[1] * outward[1]
    leftward = turn * (outward[0] * normal[1] - outward[1] * normal[0])
    return math.degrees(math.atan2(leftward, ahead))


def _side(edge: Edge) -> Vec2:
    """Return the side of the part an edge belongs to, as the way it would look if it were square.

    Of an end or a corner along the length, of an edge across it.
    """
    x, y, _ = edge.plane.normal
    if edge.kind == "edge":
        return (0.0, math.copysign(1.0, y))
    return (math.copysign(1.0, x), 0.0)
