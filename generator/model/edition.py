"""A design evaluated for one edition: every formula a value, every piece placed, nothing cut."""

from dataclasses import dataclass
from typing import Literal

from generator.geometry.frames import Frame, Plane
from generator.geometry.vectors import Vec3
from generator.model.catalogue import Board, Catalogue, Edging, Material, Sheet, Tool
from generator.model.hardware import FinishSpec, HardwareSpec
from generator.model.outline_points import OutlinePoint
from generator.model.strength import Load
from generator.model.workshop import Car, OwnOffcut, RouterWork
from generator.problems import Place
from generator.units import Quantity, System

Direction = Literal["right", "left", "back", "front", "top", "bottom"]
"""A side of the piece, and the way there: to the top is up."""

OPPOSITE: dict[Direction, Direction] = {
    "right": "left",
    "left": "right",
    "back": "front",
    "front": "back",
    "top": "bottom",
    "bottom": "top",
}
RecessKind = Literal["notch", "arch"]
OpeningKind = Literal["hole", "slot", "cutout"]
Grain = Literal["along", "either", "any"]
"""How a part lies on a sheet with grain: length along it, or either way; any where it has none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameter:
    """A parameter of the design with its value in this edition."""

    name: str
    quantity: Quantity
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What a design calls by a name of its own: the sheet or board it means in this edition."""

    name: str
    goods: Sheet | Board
    place: Place

    @property
    def board(self) -> Board | None:
        """The board, or None where it is a sheet."""
        return self.goods if isinstance(self.goods, Board) else None

    @property
    def is_round(self) -> bool:
        """Whether it is a rod."""
        return self.board is not None and self.board.is_round

    @property
    def title(self) -> str:
        """What a lumber yard calls it."""
        return self.goods.name

    @property
    def thickness_mm(self) -> float:
        """As measured, not as named."""
        return self.goods.thickness_mm

    @property
    def material(self) -> Material:
        """What it is made of."""
        return self.goods.material

    @property
    def has_grain(self) -> bool:
        """Whether its faces have a grain direction."""
        return self.goods.has_grain


@dataclass(frozen=True, slots=True, kw_only=True)
class Plain:
    """An edge square to the face, where the size of the part puts it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Housed:
    """How an edge stands in a channel of another piece.

    Attributes:
        named: Name of the piece the maker means, or the copy it mirrors.
        hosts: Names of the pieces that may have the channel: several where a mirrored piece may
            stand in any of those whose face is in the same plane.
        face: The face the channel is cut into, in the room, pointing out of the host.
        depth_mm: From that face to the floor of the channel.
        stops: Edges of ``named`` that the channel stays away from, and how far.
    """

    named: str
    hosts: tuple[str, ...]
    face: Plane
    depth_mm: float
    stops: tuple[tuple[Direction, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Against:
    """An edge cut where a plane of the room or a face of another piece is.

    Attributes:
        plane: In the room; either side, the parts stage turns it outward.
        meets: What it is, in words, such as ``side left`` or ``the floor``.
        housed: Where the edge stands in a channel: the plane is then that of its floor.
    """

    plane: Plane
    meets: str
    place: Place
    housed: Housed | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bevel:
    """An edge tilted where the size of the part puts its long point.

    Attributes:
        angle_deg: Blade tilt from square.
        long_outward: Direction in the room that the face with the long point looks to.
    """

    angle_deg: float
    long_outward: Vec3
    place: Place


EdgeRule = Plain | Against | Bevel


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerRule:
    """A corner between two edges, clipped, rounded or notched.

    Attributes:
        edges: The names of the two edges that meet there.
        clip_mm: For a clip or a notch, how far along the first and along the second edge.
        radius_mm: For a round; else None.
        is_notch: Whether the wood between the edges is taken out square instead of clipped.
    """

    edges: tuple[Direction, Direction]
    clip_mm: tuple[float, float] | None
    radius_mm: float | None
    is_notch: bool = False
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class RecessRule:
    """A notch or an arch in an edge.

    Attributes:
        edge: The edge it is cut into.
        sizes_mm: Along the edge and into the part: length and depth, or span and rise.
        start: An edge that meets this one, and how far from it the cut begins; None for the middle.
    """

    kind: RecessKind
    edge: Direction
    sizes_mm: tuple[float, float]
    start: tuple[Direction, float] | None
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningRule:
    """A round hole, a slot with round ends or a rectangle with round corners, straight through.

    Attributes:
        sizes_mm: Diameter alone, or length and width.
        radius_mm: Of the corners of a cut-out, 0 where they are sharp.
        along: For a slot or a cut-out, the direction its length runs in.
        distances: From each of two edges (by name) to the middle of the opening, in mm.
    """

    kind: OpeningKind
    sizes_mm: tuple[float, ...]
    radius_mm: float
    along: Direction | None
    distances: tuple[tuple[Direction, float], tuple[Direction, float]]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class PinRule:
    """A row of blind holes for shelf pins, all alike: as read, with sizes in mm.

    Faces and edges are called as they are on this piece; ``inside`` and ``outside`` stay.
    """

    hole_mm: float
    deep_mm: float
    pitch_mm: float
    face: str
    along: Direction
    count: int | None
    leave_mm: float | None
    distances: tuple[tuple[Direction, float], tuple[Direction, float]]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSpec:
    """One piece as placed, before its edges are cut.

    Attributes:
        name: ``side.left``, ``tray_bottom[2]``, or just ``back``.
        part: The key under ``parts``.
        words: Names of the six faces and edges: keys ``length+``, ``length-``, ``width+``,
            ``width-``, ``through+``, ``through-`` are the local directions +x, -x, +y, -y, +z, -z.
        frame: Local to room, right-handed: x along the length, y along the width, z through; the
            origin is the corner the sizes are measured from, on the face at z = 0.
        spans: From and to along x, then along y, in mm; None where an edge rule decides.
        rules: For x-, x+, y-, y+ in this order.
        edging: Edges that are covered, by name, and what covers them.
        outline: The points of a free outline instead of spans and rules; nothing for a rectangle.
        show: Face to look at: its word, "both", "outside" or "inside", or "" where none is named.
        mirror: Whether the piece is to be mirrored through ``mirror_plane`` when it is cut.
        carries: The load that is laid on it.
    """

    name: str
    part: str
    title: str
    stock: Stock
    grain: Grain
    words: tuple[tuple[str, Direction], ...]
    frame: Frame
    spans: tuple[tuple[float | None, float | None], tuple[float | None, float | None]]
    rules: tuple[EdgeRule, EdgeRule, EdgeRule, EdgeRule]
    corners: tuple[CornerRule, ...]
    openings: tuple[OpeningRule, ...]
    recesses: tuple[RecessRule, ...] = ()
    pins: tuple[PinRule, ...] = ()
    outline: tuple[OutlinePoint, ...] = ()
    edging: tuple[tuple[Direction, Edging], ...] = ()
    show: str
    mirror_plane: Plane | None
    place: Place
    carries: Load | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class JointSpec:
    """A joint as asked for.

    Attributes:
        id: The maker's name for it, or ``tray_bottom to side``.
        first: Names of the pieces the screws start in, or the first ones of dowels and bolts.
        second: For each thing named after "to", the pieces it means.
        with_: What joins them, as the maker says it: ``pocket screws``, ``dowels``, ``glue`` …
        nuts: Whether bolts go through both pieces into nuts.
        pockets: Name of the face the pockets are bored in; "" where not given.
        count: Screws, nails, dowels or bolts in each contact, or None for the spacing rule.
        spacing_mm: At most this far apart.
        ends_mm: From the ends of the contact to the first and last screw.
        fixing: Key in shared/screws.yml, dowels.yml or bolts.yml, or "" to choose.
    """

    id: str
    first: tuple[str, ...]
    second: tuple[tuple[str, ...], ...]
    with_: str
    glue: bool
    pockets: str
    nuts: bool
    count: int | None
    spacing_mm: float | None
    ends_mm: float | None
    fixing: str
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class StepSpec:
    """A step as told: which pieces go on, and the maker's words.

    Attributes:
        pieces: Names of the pieces fitted in this step.
        apart: Name of the sub-assembly being built, or "" on the main piece.
        joins: Names of sub-assemblies that go onto the piece in this step.
        hardware: Names of the hardware that is fitted in it.
    """

    title: str
    pieces: tuple[str, ...]
    apart: str
    joins: tuple[str, ...]
    says: str
    cautions: tuple[str, ...]
    place: Place
    hardware: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Buy:
    """Something else to buy, as told."""

    item: str
    quantity: float
    unit: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Accept:
    """A warning the maker accepts in this edition.

    Attributes:
        where: A key of the file, such as ``parts.shelf``, or "" for all of them.
    """

    code: str
    where: str
    reason: str
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """The words of a design that are no numbers; Markdown where they are long.

    Attributes:
        slug: The name of the plan's folder.
        design: The name of the design's folder: the plans of its sizes share it.
        size: The name of the size, or "" for the design as it stands.
        size_says: The maker's words on the size.
        children: Whether children use the piece or are about where it stands.
        stands: ``freely``, ``fixed`` to a wall, or ``hung`` on one.
        stands_place: Where that is said, or the beginning of the file.
    """

    slug: str
    title: str
    summary: str
    about: str
    difficulty: str
    made_by: str
    licence: str
    revision: str
    date: str
    tags: tuple[str, ...]
    hours: str
    children: bool
    stands: str
    stands_place: Place
    changes: tuple[tuple[str, str], ...]
    finish: str
    cautions: tuple[str, ...]
    tools: tuple[Tool, ...]
    file: str
    design: str = ""
    size: str = ""
    size_says: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edition:
    """A design in one edition.

    Attributes:
        system: Imperial or metric.
        saw: The saw that cuts the sheets: its kerf and greatest tilt count.
        car: What the maker's car takes; None where nothing is said.
        router: What router sheets are laid for.
        offcuts: Those the maker has for this design; the library's stand in the catalogue alone.
    """

    system: System
    story: Story
    catalogue: Catalogue
    parameters: tuple[Parameter, ...]
    stocks: tuple[Stock, ...]
    saw: Tool
    pieces: tuple[PieceSpec, ...]
    joints: tuple[JointSpec, ...]
    steps: tuple[StepSpec, ...]
    buys: tuple[Buy, ...]
    router: RouterWork
    accepts: tuple[Accept, ...] = ()
    finishes: tuple[FinishSpec, ...] = ()
    hardware: tuple[HardwareSpec, ...] = ()
    car: Car | None = None
    offcuts: tuple[OwnOffcut, ...] = ()
