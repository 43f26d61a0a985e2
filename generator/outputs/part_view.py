"""How a part lies on paper: seen square on from outside, on face A or, turned over, on face B.

      seen on face A              the same piece turned over, seen on face B
    +-------------------+         +-------------------+
    | back              |         | front             |
    | left        right |         | left        right |
    | front             |         | back              |
    +-------------------+         +-------------------+

The part's frame is right-handed with z from face A into the wood, so an eye on face A sees it
mirrored: x to the right has y downward. Turning over is about the length: ends stay where they are.
"""

from dataclasses import dataclass
from typing import Final

from generator.geometry.outlines import Outline
from generator.geometry.vectors import Vec2
from generator.model.parts import FACE_A, FACE_B, Edge, FaceName, Part, Piece

ORDER: Final = (
    ("end", 0, "top", "bottom"),
    ("edge", 1, "top", "bottom"),
    ("edge", 1, "back", "front"),
    ("end", 0, "right", "left"),
    ("end", 0, "back", "front"),
    ("edge", 1, "right", "left"),
)
"""Which names decide how a part lies: a kind of edge, an axis on paper, the name ahead, behind."""


@dataclass(frozen=True, slots=True)
class View:
    """An eye square on a face of a part; the origin is the lower left of what it sees.

    Attributes:
        face: The face it looks at.
        length_mm: Of the part.
        width_mm: Of the part.
        is_turned: Whether the part's x runs to the left, for a picture the right way up.
    """

    face: FaceName
    length_mm: float
    width_mm: float
    is_turned: bool

    def point(self, point: Vec2) -> Vec2:
        """Return where a point of the part is seen, in mm of the part."""
        x, y = point
        x, is_upright = (self.length_mm - x, True) if self.is_turned else (x, False)
        return (x, y if is_upright == (self.face == "A") else self.width_mm - y)

    def direction(self, vector: Vec2) -> Vec2:
        """Return how a direction of the part is seen."""
        zero, tip = self.point((0.0, 0.0)), self.point(vector)
        return (tip[0] - zero[0], tip[1] - zero[1])

    def outline(self, outline: Outline) -> Outline:
        """Return an outline as it is seen, counter-clockwise."""
        points = tuple(self.point(point) for point in outline.points)
        if self.face == "B":
            return Outline(points, outline.bulges)
        turned = tuple(reversed(outline.bulges[:-1])) + outline.bulges[-1:]
        return Outline(tuple(reversed(points)), turned)


def find_view(part: Part, face: FaceName) -> View:
    """Return the view of a face that has the part's upper edge or end above or to the right."""
    upright = View("A", part.length_mm, part.width_mm, False)
    return View(face, part.length_mm, part.width_mm, _is_upside_down(part, upright))


def face_number(face: FaceName) -> int:
    """Return the number of a face among the sides of a part."""
    return FACE_A if face == "A" else FACE_B


def face_word(part: Part, piece: Piece, face: FaceName) -> str:
    """Return what a face is called on a piece, such as ``top``."""
    words = dict(piece.words)
    return words.get(face_number(face), part.face_words[0 if face == "A" else 1])


def edge_word(part: Part, piece: Piece, index: int) -> str:
    """Return what an edge is called on a piece, such as ``front``."""
    return dict(piece.words).get(index, part.edges[index].name)


def edge_direction(edge: Edge) -> Vec2:
    """Return the way an edge looks, in the face."""
    return (edge.plane.normal[0], edge.plane.normal[1])


def has_grain(part: Part) -> bool:
    """Return whether the grain of a part must run along its length."""
    return part.grain != "any" and part.stock.has_grain


def _is_upside_down(part: Part, view: View) -> bool:
    """Whether top, back or right would be seen below or to the left, in this order."""
    for kind, axis, good, bad in ORDER:
        for edge in part.edges:
            if edge.kind == kind and edge.name in {good, bad}:
                ahead = view.direction(edge_direction(edge))[axis]
                return (ahead > 0) != (edge.name == good)
    return False
