"""What is sawn from which sheet or board, in which order, with which settings.

Sheets are seen from above: x along the sheet's length, y along its width, the origin at a corner
of the untrimmed sheet. Pieces are at least one kerf apart. A board is told of like a sheet that is
narrow and keeps its long edges.
"""

from dataclasses import dataclass
from typing import Literal

from generator.geometry.outlines import Outline
from generator.geometry.vectors import Vec2
from generator.model.catalogue import SheetSize
from generator.model.edition import Stock
from generator.model.needs import BoardNeed, CostNeed, StockNeed
from generator.model.workshop import Car

Effort = Literal["quick", "normal", "best"]
"""How long to look for a layout with fewer sheets; each finds the same on every machine."""

EFFORTS: tuple[Effort, ...] = ("quick", "normal", "best")

CutKind = Literal["trim", "rip", "crosscut"]
SettingKind = Literal[
    "trim", "rip", "crosscut", "bevel", "angle", "channel", "round", "bore", "jigsaw"
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """The rectangle sawn from a sheet or a board for every copy of a part.

    Attributes:
        length_mm: Along the grain, allowance for bevels included.
        width_mm: Across it.
        allowance_mm: What is left over at x-, x+, y-, y+ of the part for its bevels.
    """

    label: str
    count: int
    length_mm: float
    width_mm: float
    allowance_mm: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """A blank on a sheet: ``turned`` means that its length runs along y."""

    label: str
    copy: int
    x_mm: float
    y_mm: float
    length_mm: float
    width_mm: float
    turned: bool

    @property
    def along_x_mm(self) -> float:
        """Its extent along the sheet's length."""
        return self.width_mm if self.turned else self.length_mm

    @property
    def along_y_mm(self) -> float:
        """Its extent along the sheet's width."""
        return self.length_mm if self.turned else self.width_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One saw cut through a sheet or a piece of it, from edge to edge of that piece.

    Attributes:
        order: Number in the whole plan, from 1.
        setting: Order of the setting it is made with.
        kind: A rip runs along the grain (the sheet's length), a crosscut across it.
        setting_mm: Distance from the fence or stop to the near side of the kerf: the size made;
            for a trim what is taken off, kerf included.
        start: On the sheet, the kerf's middle line.
        end: The other end.
        of: What is being cut, in words: ``sheet 1`` or ``strip 1.2``; ``board 1``, ``piece 1.2``.
        frees: What comes off on the measured side, in words: ``A``, ``A, leaving B`` where the
            rest is a blank too, ``strip 1.2``, or ``factory edge``.
    """

    order: int
    setting: int
    kind: CutKind
    setting_mm: float
    start: Vec2
    end: Vec2
    of: str
    frees: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A rectangle left over on a sheet and worth keeping."""

    x_mm: float
    y_mm: float
    length_mm: float
    width_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """One sheet or board and what is sawn from it.

    Attributes:
        number: 1 for the first sheet of the plan, over all stocks; boards are counted apart.
        stock: The design's name for the stock and its sheet or board.
        size: The size bought.
        trim_mm: Taken off left (least x), right, bottom (least y), top.
        kerf_mm: Of the saw.
        cuts: Trims included, in the order they are made on this sheet.
        used: Part of the sheet's area that becomes blanks, 0 to 1.
    """

    number: int
    stock: Stock
    size: SheetSize
    trim_mm: tuple[float, float, float, float]
    kerf_mm: float
    placements: tuple[Placement, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]
    used: float

    @property
    def mass_kg(self) -> float:
        """What the sheet or board weighs as it is bought."""
        face_m2 = self.size.length_mm * self.size.width_mm / 1e6
        return face_m2 * self.stock.thickness_mm / 1e3 * self.stock.material.density_kg_m3


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A fence, stop or tilt set once for a run of cuts.

    Attributes:
        order: 1 for the first.
        kind: What is done.
        value_mm: Distance of fence or stop; for a bevel the finished size it leaves; for a channel
            its depth; 0 for none.
        tilt_deg: Blade tilt from square.
        mitre_deg: Angle in the face off square.
        pieces: Labels of the parts that get this cut, in order, each once.
        where: In words: ``sheet 1, sheet 2``, or ``back edge, long point on top``.
        cuts: Number of cuts made with it.
    """

    order: int
    kind: SettingKind
    value_mm: float
    tilt_deg: float
    mitre_deg: float
    pieces: tuple[str, ...]
    where: str
    cuts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Lifting:
    """What has to be lifted while the sheets are broken down.

    Attributes:
        limit_kg: What one person should lift.
        piece_kg: The heaviest piece that a sheet is first sawn into; 0 where there is no sheet.
    """

    limit_kg: float
    piece_kg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsNeed:
    """How often fence or stop is set to saw all sheets and boards, and what is known about less.

    Attributes:
        settings: Trims, rips and crosscuts; bevels and whatever else shapes a blank aside.
        bound: No order of the same cuts can do with fewer.
    """

    settings: int
    bound: int

    @property
    def proved_least(self) -> bool:
        """Whether no order of the cuts needs fewer."""
        return self.settings == self.bound


@dataclass(frozen=True, slots=True, kw_only=True)
class RouterHole:
    """A round hole for a router or drill; through, or ``depth_mm`` deep from the face above."""

    center: Vec2
    diameter_mm: float
    depth_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RouterPlacement:
    """A part on a sheet for a router, face A up; every outline stands where it is on the sheet.

    Attributes:
        turn_deg: How far the part is turned to the left from its drawing; it is never turned over.
        outline: The greatest outline over both faces: where edges lean, the bevels come later.
        openings: Slots and cut-outs, straight through.
        holes: Round openings.
        pin_holes: Those in face A.
        grain: From one point to another along the grain of the part.
    """

    label: str
    copy: int
    turn_deg: float
    outline: Outline
    openings: tuple[Outline, ...]
    holes: tuple[RouterHole, ...]
    pin_holes: tuple[RouterHole, ...]
    grain: tuple[Vec2, Vec2]


@dataclass(frozen=True, slots=True, kw_only=True)
class RouterLayout:
    """One sheet and what a router cuts from it, outline beside outline, a bit apart or more.

    Attributes:
        number: 1 for the first, over all stocks.
        bit_mm: Diameter of the bit.
        apart_mm: No two outlines are nearer, the bit at least.
        border_mm: No outline is nearer to an edge of the sheet.
        used: Part of the sheet's area that becomes parts, 0 to 1.
        bevels: Labels of the parts on it that are cut square and bevelled afterwards.
    """

    number: int
    stock: Stock
    size: SheetSize
    bit_mm: float
    apart_mm: float
    border_mm: float
    placements: tuple[RouterPlacement, ...]
    used: float
    bevels: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopCut:
    """One cut to ask for where a sheet is bought, from edge to edge of the piece it goes through.

    Attributes:
        order: 1 for the first of its list.
        sheet: Number of the sheet.
        kind: A rip runs along the sheet, a crosscut across it.
        size_mm: From the left or lower edge of what is cut to the near side of the kerf.
        start: On the sheet, the kerf's middle line.
        end: The other end.
        of: What is cut: ``sheet 1``, or a piece.
        gives: The piece that comes off; with the last cut, what remains as well.
        replaces: Number of the plan's cut that need not be made any more; 0 for none.
    """

    order: int
    sheet: int
    kind: CutKind
    size_mm: float
    start: Vec2
    end: Vec2
    of: str
    gives: tuple[str, ...]
    replaces: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CarPiece:
    """One piece to take home after the cuts at the shop.

    Attributes:
        name: ``1b``; a sheet that is not cut keeps its own: ``sheet 1``.
        sheet: Number of the sheet it comes from.
        length_mm: Along the sheet, factory edges included.
        width_mm: Across it.
        labels: Of the blanks on it, one for each copy.
        fits: Whether the car takes it.
        is_kept: Whether it has blanks on it or is an offcut worth keeping.
    """

    name: str
    sheet: int
    length_mm: float
    width_mm: float
    labels: tuple[str, ...]
    fits: bool
    is_kept: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopList:
    """The fewest cuts to ask for so that every piece fits a car, and the pieces they give.

    Attributes:
        car: The one that is asked about.
        taker: The one the list is for: the same, or what takes its too large blanks as well.
        too_large: Labels of blanks that are larger than the car, each once.
    """

    car: Car
    taker: Car
    cuts: tuple[ShopCut, ...]
    pieces: tuple[CarPiece, ...]
    too_large: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherSaw:
    """What a saw with another kerf changes.

    Attributes:
        kerf_mm: Of that saw.
        holds: Whether every sheet and board of the plan gives its blanks with it.
        cutting: What is sawn instead where it does not hold; None where it does, and where a
            part fits no sheet or board any more.
    """

    kerf_mm: float
    holds: bool
    cutting: "Cutting | None" = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """Blanks, layouts and settings of a plan.

    Attributes:
        layouts: The sheets, in order.
        boards: The boards, in order.
        settings_need: Of the cuts through sheets and boards.
        lifting: None where no sheet is sawn.
        router: The sheets for a router, instead of ``layouts``.
        not_routed: Labels of the parts that are not on them: from boards, or too large for a bit
            to go round.
        shop_lists: What to ask for where the sheets are bought, car by car.
        other_saws: What the usual kerfs change, the least first.
    """

    blanks: tuple[Blank, ...]
    layouts: tuple[Layout, ...]
    settings: tuple[Setting, ...]
    needs: tuple[StockNeed, ...]
    boards: tuple[Layout, ...] = ()
    board_needs: tuple[BoardNeed, ...] = ()
    settings_need: SettingsNeed = SettingsNeed(settings=0, bound=0)
    lifting: Lifting | None = None
    router: tuple[RouterLayout, ...] = ()
    not_routed: tuple[str, ...] = ()
    shop_lists: tuple[ShopList, ...] = ()
    other_saws: tuple[OtherSaw, ...] = ()

    def all_layouts(self) -> tuple[Layout, ...]:
        """Return the sheets and the boards."""
        return (*self.layouts, *self.boards)

    def cost_need(self) -> CostNeed | None:
        """Return what sheets and boards cost together; None where no price is known."""
        needs: tuple[StockNeed | BoardNeed, ...] = (*self.needs, *self.board_needs)
        if all(need.cost is None for need in needs):
            return None
        return CostNeed(
            cost=round(sum(need.cost or 0.0 for need in needs), 2),
            bound=round(sum(need.cost_bound or 0.0 for need in needs), 2),
            unpriced=tuple(need.stock for need in needs if need.cost is None),
        )
