"""The parts: exact solids, which pieces are the same, and what a builder needs to know of each.

A part has a frame of its own: x along its length (with the grain), y across it, z through it from
face A (z = 0) to face B. Its origin is the least x and least y of both faces, so that all of it
has x from 0 to its length and y from 0 to its width. Every piece says where that frame stands in
the room (right-handed, so a piece is turned or flipped, never mirrored).
"""

from dataclasses import dataclass
from typing import Literal

from generator.geometry.faces import channel_of, floor_side
from generator.geometry.frames import Frame, Plane
from generator.geometry.outlines import Outline
from generator.geometry.rods import Body
from generator.geometry.vectors import Vec2, Vec3
from generator.model.catalogue import Edging
from generator.model.edition import Grain, OpeningKind, RecessKind, Stock
from generator.problems import Place

EdgeKind = Literal["end", "edge", "corner", "notch", "arch", "line", "arc"]
CutKind = RecessKind | Literal["outline"]
FaceName = Literal["A", "B"]
HousingKind = Literal["dado", "groove", "rabbet"]

FACE_A = -1
FACE_B = -2
"""Sides of a part are numbered: the edges of its outline from 0, face A and face B below 0."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """One edge of a part; edge i starts at point i of both face outlines.

    Attributes:
        name: ``left``, ``front`` …; a clipped or rounded corner is ``top front``.
        kind: An end (across the grain), an edge (along it), a worked corner, or the wall of a notch
            or an arch. An edge with a notch in it is there twice, once on either side.
        tilt_deg: Blade tilt from square, 0 or more.
        mitre_deg: How far its line is off square (end) or off parallel (edge), 0 or more; for a
            corner how far it is off square to the length.
        long_face: The face the long point is on; "" where the edge is square.
        meets: What it is cut against, in words; "" for nothing.
        plane: In the part's frame, pointing outward.
        radius_mm: Of a rounded corner or an arch; 0 where the edge is straight.
        edging: What covers it; it stands out beyond the sizes of the part.
    """

    name: str
    kind: EdgeKind
    tilt_deg: float
    mitre_deg: float
    long_face: FaceName | Literal[""]
    meets: str
    plane: Plane
    radius_mm: float
    edging: Edging | None = None

    @property
    def is_plain(self) -> bool:
        """Whether it is an end or edge of the rectangle the part is sawn from."""
        return self.kind in {"end", "edge"}

    @property
    def is_recess(self) -> bool:
        """Whether it is a wall of a notch or an arch, or a free line or arc."""
        return self.kind in {"notch", "arch", "line", "arc"}

    @property
    def is_free(self) -> bool:
        """Whether it is a line or an arc of a free outline, off the bounds of the part."""
        return self.kind in {"line", "arc"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Recess:
    """What is cut out of the rectangle: a notch or an arch, or what a free outline leaves over.

    Attributes:
        name: Of the edge or the corner it is cut from, such as ``bottom`` or ``top front``.
        sizes_mm: Along the edge and into the part; at a corner along its first and second edge.
        edges: Indices of its walls among the edges of the part.
        outline: Of the wood that is taken away, counter-clockwise, in the part's frame.
    """

    kind: CutKind
    name: str
    sizes_mm: tuple[float, float]
    edges: tuple[int, ...]
    outline: Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A hole, slot or cut-out of the design, straight through, in the part's frame.

    Attributes:
        name: ``hole``, ``slot`` or ``cutout``.
        center: Its middle.
        sizes_mm: Diameter alone, or length and width.
        radius_mm: Of the corners of a cut-out.
        along_x: Whether its length runs along the length of the part.
        outline: Counter-clockwise.
    """

    name: OpeningKind
    center: Vec2
    sizes_mm: tuple[float, ...]
    radius_mm: float = 0.0
    along_x: bool
    outline: Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class PinHole:
    """A blind hole for a shelf pin, square to a face, in the part's frame.

    Attributes:
        row: Number of its row among the rows of the piece.
        center: Its middle.
        side: `FACE_A` or `FACE_B`.
    """

    row: int
    center: Vec2
    side: int
    diameter_mm: float
    depth_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Housing:
    """A channel in a face that other pieces stand in, in the part's frame.

    Attributes:
        kind: Across the grain, along it, or along an edge and open to it.
        side: `FACE_A` or `FACE_B`.
        channel: Its number among the channels of the slab.
        outline: On the face, counter-clockwise.
        corners: Where its long sides begin and end on the face; of a rabbet, its inner side alone.
        width_mm: Across the channel, on the face.
        length_mm: Along it, on the face.
        angle_deg: How far a dado is off square to the grain; 0 for what runs along an edge.
        edge: Name of the edge it is measured from; of a rabbet the one it runs along.
        from_mm: From that edge to its nearer side.
        to_mm: From that edge to its farther side.
        is_along: Whether it runs along that edge; else the two are for its corners only.
        opens: Names of the edges its ends run out over.
        stops: For every end that stops short the edge ahead of it, and how far it stays away.
        mates: Names of the pieces that stand in it, on all copies of the part.
        place: Where the design tells of the first of them.
    """

    kind: HousingKind
    side: int
    channel: int
    outline: Outline
    corners: tuple[Vec2, ...]
    depth_mm: float
    width_mm: float
    length_mm: float
    angle_deg: float
    edge: str
    from_mm: float
    to_mm: float
    is_along: bool
    opens: tuple[str, ...]
    stops: tuple[tuple[str, float], ...]
    mates: tuple[str, ...]
    place: Place

    @property
    def floor(self) -> int:
        """The number of the side that is its floor."""
        return floor_side(self.channel)


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One physical piece: a copy of a part, somewhere in the room.

    Attributes:
        name: ``side.left``, ``tray_bottom[2]``, or just ``back``.
        label: The label of its part.
        copy: 1 for the first piece of the part.
        frame: The part's frame in the room.
        words: Names of its own faces and edges by number of the part's side (`FACE_A`, `FACE_B`,
            edge index); a flipped copy calls them differently from the part.
        show: The side to look at: `FACE_A`, `FACE_B`, both, or neither.
        pins: Holes for shelf pins; two copies may have them in places that mirror each other.
        place: Where the design file tells of it.
    """

    name: str
    label: str
    copy: int
    frame: Frame
    words: tuple[tuple[int, str], ...]
    show: tuple[int, ...]
    pins: tuple[PinHole, ...] = ()
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One line of the cut list: pieces that are the same wood after turning or flipping.

    Attributes:
        label: A, B, C …
        name: The key of its first piece under ``parts``, such as ``tray_bottom``.
        title: What the maker calls it, such as ``Tray bottom``.
        length_mm: Finished size along the grain, long point to long point.
        width_mm: Finished size across it, long point to long point.
        slab: The solid in the part's frame.
        edges: As many as outline points.
        housings: Channels that other pieces stand in.
        face_words: What faces A and B are called on the first piece, such as ``top``.
        section: ``rectangle``, ``parallelogram``, ``trapezium`` or ``round``: what the cut shows.
        pieces: All copies, in the order of the design.
        volume_mm3: Of one copy, openings and channels taken off.
        mass_kg: Of one copy.
    """

    label: str
    name: str
    title: str
    stock: Stock
    grain: Grain
    length_mm: float
    width_mm: float
    thickness_mm: float
    slab: Body
    edges: tuple[Edge, ...]
    openings: tuple[Opening, ...]
    recesses: tuple[Recess, ...] = ()
    housings: tuple[Housing, ...] = ()
    face_words: tuple[str, str]
    section: str
    pieces: tuple[Piece, ...]
    volume_mm3: float
    mass_kg: float
    place: Place

    def inset_mm(self, edge: Edge, side: int, point: Vec2) -> float:
        """Return how far a point of face A or B lies from the line in which an edge cuts it.

        A bevelled edge has its line in another place on either face.
        """
        z = 0.0 if side == FACE_A else self.thickness_mm
        return edge.plane.inset((point[0], point[1], z))

    def face_of(self, side: int) -> int:
        """Return the face a side belongs to: of a floor or wall of a channel the face it is in."""
        channel = channel_of(side)
        return side if channel is None else self.housings[channel].side

    def sunk_mm(self, side: int) -> float:
        """Return how deep below its face a side lies: 0 but for the floor of a channel."""
        channel = channel_of(side)
        return 0.0 if channel is None else self.housings[channel].depth_mm

    @property
    def is_free(self) -> bool:
        """Whether its outline has lines or arcs that are told by their points."""
        return any(edge.is_free for edge in self.edges)

    @property
    def count(self) -> int:
        """Number of copies."""
        return len(self.pieces)


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """All parts of a plan.

    Attributes:
        parts: In the order of their labels.
        low: Least x, y, z of all pieces in the room.
        high: Greatest x, y, z.
        mass_kg: Of all pieces.
        center: Centre of mass in the room.
    """

    parts: tuple[Part, ...]
    low: Vec3
    high: Vec3
    mass_kg: float
    center: Vec3

    def part(self, label: str) -> Part:
        """Return the part with a label."""
        return next(part for part in self.parts if part.label == label)

    def labels(self) -> dict[str, str]:
        """Return the label of the part of every piece, by the name of the piece."""
        return {piece.name: piece.label for piece in self.pieces()}

    def pieces(self) -> tuple[Piece, ...]:
        """Return all pieces, by label and copy."""
        return tuple(piece for part in self.parts for piece in part.pieces)
