"""The order in which a piece of furniture comes together."""

from dataclasses import dataclass

from generator.geometry.vectors import Vec2


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A layout line to draw on a part before assembly: where a mate lands.

    Attributes:
        label: The part it is drawn on.
        copies: The pieces of that part it is drawn on.
        side: `FACE_A`, `FACE_B` or an edge index of the part.
        mate: Label of the part that lands there.
        outline: The patch, in x and y of the part's frame (only for faces A and B).
        edge: Name of the edge of the part the distances are measured from.
        from_mm: Distance from that edge to the near line; of a slanting patch, its nearest corner.
        to_mm: Distance from that edge to the far line; of a slanting patch, its farthest corner.
        slope_deg: How much the patch slants against that edge; 0 where it runs along it.
        cross_edge: Name of the edge, across the first, that positions along it are measured from.
        corners_mm: For each corner of the outline its distance from the edge and the cross edge.
    """

    label: str
    copies: tuple[str, ...]
    side: int
    mate: str
    outline: tuple[Vec2, ...]
    edge: str
    from_mm: float
    to_mm: float
    slope_deg: float = 0.0
    cross_edge: str = ""
    corners_mm: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One action of assembly.

    Attributes:
        order: 1 for the first.
        title: The maker's words.
        pieces: Names of the pieces that go on in this step.
        present: Names of the pieces already joined to what is being worked on.
        fasteners: Ids of the screws driven in this step.
        glued: Pairs of pieces that are glued in this step.
        apart: Name of the sub-assembly being built, or "" on the main piece.
        joins: Names of sub-assemblies that go on in this step.
        says: Markdown.
        marks: Layout lines needed from here on.
        hardware: Names of the hardware that is fitted in this step.
    """

    order: int
    title: str
    pieces: tuple[str, ...]
    present: tuple[str, ...]
    fasteners: tuple[str, ...]
    glued: tuple[tuple[str, str], ...]
    apart: str
    joins: tuple[str, ...]
    says: str
    cautions: tuple[str, ...]
    marks: tuple[Mark, ...]
    hardware: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """All steps in order."""

    steps: tuple[Step, ...]
