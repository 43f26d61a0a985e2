"""Where parts touch, what holds them together, and every hole that is bored for it."""

from dataclasses import dataclass
from typing import Literal

from generator.geometry.vectors import Vec3
from generator.model.fixings import Fixing
from generator.problems import Place

HoleKind = Literal["pocket", "clearance", "nail", "pilot", "dowel", "insert", "bolt", "pin"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """Two plane sides of two pieces that lie on each other.

    Attributes:
        first: Name of a piece.
        second: Name of the other piece.
        first_side: Number of the side on the first piece's part (`FACE_A`, `FACE_B`, edge index).
        second_side: The same on the second.
        outline: Corners of the common patch in the room, seen from the second piece
            counter-clockwise.
        normal: Out of the first piece, in the room.
        area_mm2: Area of the patch.
    """

    first: str
    second: str
    first_side: int
    second_side: int
    outline: tuple[Vec3, ...]
    normal: Vec3
    area_mm2: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Socket:
    """A rod in the hole of another piece: they touch all round, where both are round.

    Attributes:
        first: Name of the rod.
        second: Name of the piece with the hole.
        center: Middle of the stretch of the rod that is in the hole, in the room.
        normal: Along the rod, from its middle towards the other piece.
        loose_mm: How much wider the hole is than the rod.
        area_mm2: Of the wall of the hole where the rod is.
    """

    first: str
    second: str
    center: Vec3
    normal: Vec3
    loose_mm: float
    area_mm2: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """One screw, nail, dowel or bolt in the room.

    Attributes:
        id: ``S1``, ``S2`` … in the order of the steps and the joint.
        joint: The joint's id.
        goods: What it is.
        head: Where the seat (pocket screw) or the top (face screw) of the head is; of a bolt, its
            underside; of a dowel, its end in the first piece.
        tip: The point, or the other end.
        direction: From head to tip, length 1.
        through: Names of the pieces it passes, head first.
        hidden: Whether nobody sees the head on the finished piece.
        has_nut: Whether it is a bolt that goes into a nut.
        pull_n: The average pull, in N, that tore such a fastener out of such wood in tests; None
            where no formula is published for it.
    """

    id: str
    joint: str
    goods: Fixing
    head: Vec3
    tip: Vec3
    direction: Vec3
    through: tuple[str, ...]
    hidden: bool
    has_nut: bool = False
    pull_n: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BoredHole:
    """One hole to bore in one piece, in the part's frame.

    Attributes:
        piece: Name of the piece.
        fastener: The id of what it is bored for; "" for a pin, which is put in when all is built.
        kind: A pocket, a clearance hole (countersunk for flat heads), a hole that keeps a nail from
            splitting the first board, a pilot hole in the second, one of the two holes of a dowel,
            the hole of a bolt's insert, a bolt's hole through the second piece, or the hole of a
            shelf pin.
        side: Side of the part the bit enters (`FACE_A`, `FACE_B`, edge index).
        at: Middle of the hole on that side.
        direction: The way the bit goes, length 1.
        diameter_mm: Of the bit.
        depth_mm: Along the bit, of the full diameter; None where it goes through.
        countersink_mm: Diameter at the surface; 0 where there is none.
    """

    piece: str
    fastener: str
    kind: HoleKind
    side: int
    at: Vec3
    direction: Vec3
    diameter_mm: float
    depth_mm: float | None
    countersink_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A joint as made.

    Attributes:
        id: The maker's name for it, or ``tray_bottom to side``.
        between: The pairs of pieces it joins.
        with_: What joins them, as the maker says it: ``pocket screws``, ``dowels``, ``glue`` …
        glue: Whether the contact is glued as well.
        fasteners: Ids.
    """

    id: str
    between: tuple[tuple[str, str], ...]
    with_: str
    glue: bool
    fasteners: tuple[str, ...]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """A piece that lies on shelf pins.

    Attributes:
        joint: The joint's id.
        piece: Name of the piece that lies there.
        pins: The holes of the pins under it.
    """

    joint: str
    piece: str
    pins: tuple[BoredHole, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Joinery:
    """All contacts, joints, fasteners and holes of a plan."""

    contacts: tuple[Contact, ...]
    joints: tuple[Joint, ...]
    fasteners: tuple[Fastener, ...]
    holes: tuple[BoredHole, ...]
    rests: tuple[Rest, ...] = ()
    sockets: tuple[Socket, ...] = ()

    def fastener(self, name: str) -> Fastener:
        """Return the fastener with an id."""
        return next(fastener for fastener in self.fasteners if fastener.id == name)
