"""Plain rectangular parts for tests of the cutting stage, a line each."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.geometry.frames import Frame, Plane
from generator.geometry.outlines import Outline
from generator.geometry.slabs import Slab
from generator.model.catalogue import Board, Material, Sheet, SheetSize, Tool
from generator.model.edition import Grain, Stock
from generator.model.parts import Edge, Part, Parts, Piece
from generator.problems import Place
from generator.units import System

PLACE = Place(file="designs/bench/design.yml", line=7, column=3)
NORMALS = ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0))
NAMES = ("front", "right", "back", "left")


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line of a cut list: label, copies, finished length and width."""

    label: str
    count: int
    length_mm: float
    width_mm: float
    grain: Grain = "along"
    stock: str = "panel"
    bevels: tuple[tuple[str, float], ...] = ()


def make_saw(kerf_mm: float | None) -> Tool:
    """Return a saw with a kerf."""
    return Tool(key="saw", name="saw", kerf_mm=kerf_mm, tilt_limit_deg=45.0, source="test")


def make_stock(
    sizes: Sequence[tuple[float, float]],
    *,
    name: str = "panel",
    trim_mm: float = 0.0,
    has_grain: bool = True,
    system: System = "metric",
) -> Stock:
    """Return a stock of 18 mm sheets in the given sizes (length, width)."""
    material = Material(
        key="ply",
        name="ply",
        density_kg_m3=600.0,
        stiffness_n_mm2=9000.0,
        hard=False,
        source="test",
    )
    sheet = Sheet(
        key=f"{name}-18",
        name=name,
        system=system,
        thickness_mm=18.0,
        sizes=tuple(
            SheetSize(name=f"{length:g} x {width:g}", length_mm=length, width_mm=width)
            for length, width in sizes
        ),
        trim_mm=trim_mm,
        has_grain=has_grain,
        material=material,
        source="test",
        place=PLACE,
    )
    return Stock(name=name, goods=sheet, place=PLACE)


def make_board(
    lengths: Sequence[float],
    width_mm: float = 90.0,
    *,
    name: str = "board",
    trim_mm: float = 0.0,
    system: System = "metric",
) -> Stock:
    """Return a stock of 18 mm boards of one width in the given lengths."""
    material = Material(
        key="fir",
        name="fir",
        density_kg_m3=500.0,
        stiffness_n_mm2=9000.0,
        hard=False,
        source="test",
    )
    board = Board(
        key=f"18x{width_mm:g}",
        name=name,
        system=system,
        thickness_mm=18.0,
        width_mm=width_mm,
        sizes=tuple(
            SheetSize(name=f"{length:g}", length_mm=length, width_mm=width_mm) for length in lengths
        ),
        trim_mm=trim_mm,
        material=material,
        source="test",
        place=PLACE,
    )
    return Stock(name=name, goods=board, place=PLACE)


def make_size(
    length_mm: float,
    width_mm: float,
    price: float | None = None,
    at_most: int | None = None,
    *,
    is_owned: bool = False,
) -> SheetSize:
    """Return a size with a price and a limit, or an offcut that is there."""
    return SheetSize(
        name=f"{length_mm:g} x {width_mm:g}{' left over' if is_owned else ''}",
        length_mm=length_mm,
        width_mm=width_mm,
        price=0.0 if is_owned else price,
        at_most=at_most,
        is_owned=is_owned,
    )


def with_sizes(stock: Stock, sizes: Sequence[SheetSize]) -> Stock:
    """Return a stock that is sold, or there, in other sizes."""
    return replace(stock, goods=replace(stock.goods, sizes=tuple(sizes)))


def make_parts(lines: Sequence[Line], stocks: Sequence[Stock]) -> Parts:
    """Return rectangular parts, each from the stock it names."""
    by_name = {stock.name: stock for stock in stocks}
    parts = tuple(_make_part(line, by_name[line.stock]) for line in lines)
    return Parts(parts=parts, low=(0, 0, 0), high=(1, 1, 1), mass_kg=1.0, center=(0, 0, 0))


def _make_part(line: Line, stock: Stock) -> Part:
    length, width = line.length_mm, line.width_mm
    outline = Outline(((0.0, 0.0), (length, 0.0), (length, width), (0.0, width)))
    tilts = dict(line.bevels)
    pieces = tuple(
        Piece(
            name=f"{line.label}[{copy}]",
            label=line.label,
            copy=copy,
            frame=Frame(),
            words=(),
            show=(),
            place=PLACE,
        )
        for copy in range(1, line.count + 1)
    )
    return Part(
        label=line.label,
        name=line.label.lower(),
        title=line.label,
        stock=stock,
        grain=line.grain,
        length_mm=length,
        width_mm=width,
        thickness_mm=18.0,
        slab=Slab(outline, outline, 18.0),
        edges=tuple(_make_edge(i, tilts.get(NAMES[i], 0.0), line) for i in range(4)),
        openings=(),
        face_words=("bottom", "top"),
        section="rectangle",
        pieces=pieces,
        volume_mm3=length * width * 18.0,
        mass_kg=1.0,
        place=PLACE,
    )


def _make_edge(index: int, tilt_deg: float, line: Line) -> Edge:
    offset = (0.0, line.length_mm, line.width_mm, 0.0)[index]
    return Edge(
        name=NAMES[index],
        kind="end" if index % 2 else "edge",
        tilt_deg=tilt_deg,
        mitre_deg=0.0,
        long_face="B" if tilt_deg else "",
        meets="",
        plane=Plane(NORMALS[index], offset),
        radius_mm=0.0,
    )
