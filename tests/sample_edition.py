"""Catalogue, words and parameters of the sample plan."""

from fractions import Fraction

from generator.model.catalogue import Catalogue, Material, Sheet, SheetSize, Tool
from generator.model.edition import Edition, Parameter, Stock, Story
from generator.model.fixings import Screw
from generator.model.workshop import RouterWork
from generator.problems import Place
from generator.units import Quantity, System

SOURCE = "common practice, no source"


def sample_catalogue(system: System, thickness_mm: float) -> Catalogue:
    """Return one sheet, a pocket screw, a face screw, one material and a few tools."""
    wood = Material(
        key="spruce-plywood",
        name="Spruce plywood",
        density_kg_m3=480.0,
        stiffness_n_mm2=8200.0,
        hard=False,
        source=SOURCE,
    )
    imperial = system == "imperial"
    size = (2438.4, 1219.2) if imperial else (2440.0, 1220.0)
    sheet = Sheet(
        key="plywood-23/32" if imperial else "plywood-18",
        name="23/32 in plywood" if imperial else "18 mm plywood",
        system=system,
        thickness_mm=thickness_mm,
        sizes=(SheetSize(name="full sheet", length_mm=size[0], width_mm=size[1]),),
        trim_mm=6.35 if imperial else 6.0,
        has_grain=True,
        material=wood,
        source=SOURCE,
        place=Place(file="shared/sheets.yml", line=3, column=1),
    )
    pocket, face = _screws(system)
    saw = Tool(key="track-saw", name="Track saw", kerf_mm=2.2, tilt_limit_deg=47.0, source=SOURCE)
    drill = Tool(key="drill", name="Drill driver", kerf_mm=None, tilt_limit_deg=None, source=SOURCE)
    jig = Tool(
        key="pocket-jig", name="Pocket hole jig", kerf_mm=None, tilt_limit_deg=None, source=SOURCE
    )
    return Catalogue(
        sheets={sheet.key: sheet},
        boards={},
        screws={pocket.key: pocket, face.key: face},
        dowels={},
        bolts={},
        materials={wood.key: wood},
        tools={tool.key: tool for tool in (saw, drill, jig)},
    )


def sample_edition(system: System, thickness_mm: float) -> Edition:
    """Return the edition of the sample; the pieces as specified are left out."""
    catalogue = sample_catalogue(system, thickness_mm)
    sheet = next(iter(catalogue.sheets.values()))
    place = Place(file="designs/leaning-shelf/design.yml", line=18, column=3, key="stock.panel")
    width = Fraction(6096, 10) if system == "imperial" else Fraction(600)
    return Edition(
        router=RouterWork(bit_mm=6.0, apart_mm=6.0, border_mm=0.0),
        system=system,
        story=_story(tuple(catalogue.tools.values())),
        catalogue=catalogue,
        parameters=(
            Parameter(name="width", quantity=Quantity("length", width), says="Overall width"),
            Parameter(name="lean", quantity=Quantity("angle", Fraction(12)), says="Of the shelf"),
            Parameter(name="trays", quantity=Quantity("number", Fraction(3)), says=""),
        ),
        stocks=(Stock(name="panel", goods=sheet, place=place),),
        saw=catalogue.tools["track-saw"],
        pieces=(),
        joints=(),
        steps=(),
        buys=(),
    )


def _screws(system: System) -> tuple[Screw, Screw]:
    imperial = system == "imperial"
    pocket = Screw(
        key="pocket-8x1-1/4" if imperial else "pocket-4x30",
        name="#8 × 1 1/4 in pocket screw" if imperial else "4 × 30 mm pocket screw",
        kind="pocket screw",
        system=system,
        diameter_mm=4.166 if imperial else 4.0,
        head_mm=10.0,
        length_mm=31.75 if imperial else 30.0,
        pilot_soft_mm=3.175 if imperial else 3.0,
        pilot_hard_mm=3.572 if imperial else 3.5,
        clearance_mm=9.525 if imperial else 9.5,
        least_mm=15.0,
        most_mm=22.0,
        thread="coarse",
        packs=(50, 100),
        source=SOURCE,
    )
    face = Screw(
        key="wood-8x2" if imperial else "wood-4x50",
        name="#8 × 2 in wood screw" if imperial else "4 × 50 mm wood screw",
        kind="face screw",
        system=system,
        diameter_mm=4.166 if imperial else 4.0,
        head_mm=8.0,
        length_mm=50.8 if imperial else 50.0,
        pilot_soft_mm=2.381 if imperial else 2.5,
        pilot_hard_mm=3.175 if imperial else 3.0,
        clearance_mm=4.366 if imperial else 4.5,
        least_mm=12.0,
        most_mm=25.0,
        thread="",
        packs=(25, 100),
        source=SOURCE,
    )
    return pocket, face


def _story(tools: tuple[Tool, ...]) -> Story:
    return Story(
        slug="leaning-shelf",
        title="Leaning shelf",
        summary="A small shelf whose upper board leans back, for pots & seed packets.",
        about="A first project.\n\nThe upper board **leans back** so that nothing slides off.",
        difficulty="beginner",
        made_by="Alder Row Tool Library",
        licence="CC BY 4.0",
        revision="2",
        date="2026-03-14",
        tags=("garden", "small"),
        hours="2 to 3",
        children=False,
        stands="freely",
        stands_place=Place(file="designs/leaning-shelf/design.yml", line=1, column=1),
        changes=(("2", "Screws moved further from the edge."), ("1", "First published.")),
        finish="Sand to 120 grit and wipe on two thin coats of oil.",
        cautions=("Oily rags can catch fire by themselves: dry them flat outdoors.",),
        tools=tools,
        file="designs/leaning-shelf/design.yml",
    )
