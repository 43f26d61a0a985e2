"""A design as read: formulas understood but not worked out, names checked within the file."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from generator.formula.tree import Formula
from generator.model.edge_sources import (
    CornerSource,
    EdgeSource,
    OpeningSource,
    RecessSource,
    Reference,
)
from generator.model.edition import Direction, Grain
from generator.model.outline_points import OutlinePointSource
from generator.model.phrases import ByEdition, Each, Prose, Turn
from generator.model.pin_rows import PinSource
from generator.model.shop import OffcutSource
from generator.model.strength import LoadSource
from generator.problems import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class ParameterSource:
    """A parameter as written.

    Attributes:
        instead_of: The value in the file, where a size or the command line gave another.
        set_at: Where that was.
    """

    name: str
    value: ByEdition
    least: Formula | None
    most: Formula | None
    says: str
    place: Place
    instead_of: ByEdition | None = None
    set_at: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeSource:
    """A named size of the design: other values for some of its parameters.

    Attributes:
        values: Name of the parameter, its value, and where it is written.
    """

    name: str
    values: tuple[tuple[str, ByEdition, Place], ...]
    says: str
    place: Place

    @property
    def words(self) -> str:
        """Its name as words."""
        return self.name.replace("_", " ")


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSource:
    """A stock as written: for each edition the key of a sheet, a board or an edging in shared/."""

    name: str
    imperial: str
    metric: str
    places: tuple[Place, Place]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameSource:
    """A frame as written; ``name`` is empty for one written inside a part."""

    name: str
    inside: str
    each: tuple[Each, ...]
    at: tuple[Formula, Formula, Formula] | None
    turns: tuple[Turn, ...]
    place: Place
    when: Formula | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaneSource:
    """A named plane: through a point, looking in a direction, turned."""

    name: str
    at: tuple[Formula, Formula, Formula]
    facing: Direction
    turns: tuple[Turn, ...]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class CopySource:
    """Where one copy of a part is.

    Attributes:
        name: Empty where the part has one place only.
        mirrors: Name of the copy this one is the mirror image of, or "".
        across: The direction the mirror looks in, and where it stands along it.
    """

    name: str
    corner: tuple[Formula, Formula, Formula] | None
    turns: tuple[Turn, ...]
    mirrors: str
    across: tuple[Direction, Formula] | None
    place: Place
    when: Formula | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSource:
    """A part as written.

    Attributes:
        runs: Ways its length, width and thickness run from the corner.
        edging: Edges that are covered, each with the name of the stock that covers it.
        frame: Name of a frame, or a frame of its own, or None for the room.
        when: A condition; a piece for which it is not true does not exist. None: always there.
        carries: What it carries in the imperial and in the metric edition.
        sag: The most it may sag, as a share of the span.
    """

    name: str
    title: str
    stock: str
    stock_place: Place
    each: tuple[Each, ...]
    length: Formula | None
    width: Formula | None
    runs: tuple[Direction, Direction, Direction]
    frame: FrameSource | str | None
    frame_place: Place
    copies: tuple[CopySource, ...]
    edges: tuple[tuple[Direction, EdgeSource], ...]
    corners: tuple[CornerSource, ...]
    openings: tuple[OpeningSource, ...]
    recesses: tuple[RecessSource, ...] = ()
    pins: tuple[PinSource, ...] = ()
    outline: tuple[OutlinePointSource, ...] = ()
    edging: tuple[tuple[Direction, str, Place], ...] = ()
    show: str
    show_place: Place
    grain: Grain
    place: Place
    when: Formula | None = None
    carries: tuple[LoadSource | None, LoadSource | None] = (None, None)
    sag: Formula | None = None


JoinedWith = Literal[
    "pocket screws", "face screws", "nails", "dowels", "bolts", "glue", "pins", "nothing"
]
"""``pins``: it lies on shelf pins. ``nothing``: one hangs or lies on the other and can be taken off
again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JointSource:
    """A joint as written.

    Attributes:
        fixings: Keys of the catalogue in the imperial and the metric edition, "" to choose.
        nuts: Whether bolts go through both parts into nuts, not into inserts.
    """

    name: str
    first: tuple[Reference, ...]
    second: tuple[Reference, ...]
    with_: JoinedWith
    glue: bool
    pockets: str
    count: ByEdition
    spacing: ByEdition
    ends: ByEdition
    fixings: tuple[str, str]
    fixing_place: Place
    nuts: bool = False
    place: Place
    when: Formula | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StepSource:
    """A step as written."""

    title: str
    fits: tuple[Reference, ...]
    apart: str
    joins: tuple[tuple[str, Place], ...]
    says: Prose
    cautions: tuple[Prose, ...]
    place: Place
    when: Formula | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BuySource:
    """Something else to buy."""

    item: Prose
    quantity: Formula
    unit: str
    note: Prose
    when: Formula | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CoversSource:
    """``10 m2 per litre``.

    Attributes:
        unit_per_mm: The unit after the number, as mm² by mm³.
    """

    amount: Formula
    unit_per_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishSource:
    """Something that is brushed or wiped on.

    Attributes:
        on: The pieces it goes on; none for all that no other finish names.
    """

    item: Prose
    coats: Formula | None
    covers: CoversSource
    on: tuple[Reference, ...]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareSource:
    """Hardware of one kind; ``places`` are measured on ``face`` of each piece."""

    name: str
    item: Prose
    on: tuple[Reference, ...]
    face: Direction | None
    face_place: Place
    each: tuple[Each, ...]
    places: tuple[tuple[tuple[Direction, Formula], tuple[Direction, Formula], Place], ...]
    count: Formula | None
    screws: tuple[str, str]
    screws_place: Place
    screw_count: Formula | None
    is_anchor: bool
    note: Prose
    place: Place
    when: Formula | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RequireSource:
    """A condition the design stands on, and the maker's words for those who break it."""

    that: Formula
    says: Prose
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class AcceptSource:
    """A warning the maker accepts, with the reason.

    Attributes:
        edition: The one edition it is accepted in, or "" for both.
        when: A condition; where it is not true the warning is not accepted.
    """

    code: str
    where: str
    reason: str
    place: Place
    edition: str = ""
    when: Formula | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CarSource:
    """How large a flat piece a car takes."""

    length: ByEdition
    width: ByEdition


@dataclass(frozen=True, slots=True, kw_only=True)
class RouterSource:
    """What a router cuts with: bit, least distance of outlines, border; each may be left out."""

    bit: ByEdition
    apart: ByEdition
    border: ByEdition


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """The words about the whole design."""

    title: str
    summary: Prose
    about: Prose
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
    finish: Prose
    cautions: tuple[Prose, ...]
    tools: tuple[tuple[str, Place], ...]
    saw: str
    saw_place: Place
    car: CarSource | None = None
    router: RouterSource | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A design file, whole.

    Attributes:
        slug: The name of its folder.
        size: The size that was chosen; None for the design as it stands.
    """

    slug: str
    file: str
    place: Place
    heading: Heading
    parameters: tuple[ParameterSource, ...]
    stocks: tuple[StockSource, ...]
    planes: tuple[PlaneSource, ...]
    frames: tuple[FrameSource, ...]
    parts: tuple[PartSource, ...]
    joints: tuple[JointSource, ...]
    steps: tuple[StepSource, ...]
    buys: tuple[BuySource, ...]
    accepts: tuple[AcceptSource, ...]
    requires: tuple[RequireSource, ...] = ()
    sizes: tuple[SizeSource, ...] = ()
    size: SizeSource | None = None
    finishes: tuple[FinishSource, ...] = ()
    hardware: tuple[HardwareSource, ...] = ()
    offcuts: tuple[OffcutSource, ...] = ()

    def plan_slug(self, size: SizeSource | None) -> str:
        """Return the name of the folder of a plan: of a size, or of the design as it stands."""
        return self.slug if size is None else f"{self.slug}-{size.name.replace('_', '-')}"
