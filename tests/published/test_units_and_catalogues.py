"""Units and the entries of shared/ against published figures; the source stands beside each.

"Read" means that the text of the source was read in a stored copy; "quoted" that a page quoting it
was read; "from memory" that neither was.
"""

from fractions import Fraction
from pathlib import Path

import pytest

from generator.catalogue.read import read_catalogue
from generator.formula.evaluate import evaluate_formula
from generator.formula.parse import parse_formula
from generator.model.catalogue import Catalogue
from generator.problems import Place, ProblemLog
from generator.units import MM_PER_INCH, format_mass, format_size, inches

SHARED = Path(__file__).parents[2] / "shared"

# Wood Handbook, FPL-GTR-190 (2010), table 8-9, shank diameters in inches; read.
SHANK_DIAMETERS_IN = {
    4: 0.112, 5: 0.125, 6: 0.138, 7: 0.151, 8: 0.164, 9: 0.177, 10: 0.190,
    11: 0.203, 12: 0.216, 14: 0.242,
}  # fmt: skip

# NDS appendix L, table L3, root diameters of standard wood screws in inches; from memory.
ROOT_DIAMETERS_IN = {6: 0.113, 8: 0.131, 10: 0.152}

# ASME B18.6.1, flat heads, greatest and least diameter in inches; quoted by a reprint.
FLAT_HEADS_IN = {6: (0.279, 0.244), 8: (0.332, 0.292), 10: (0.385, 0.340)}

# PS 1-19, performance category → least and greatest thickness in inches; quoted.
CATEGORIES_IN = {
    "plywood-1/4": (0.219, 0.281),
    "plywood-15/32": (0.438, 0.500),
    "plywood-23/32": (0.688, 0.750),
    "plywood-3/4": (0.719, 0.781),
}


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    log = ProblemLog()
    found = read_catalogue(SHARED, log)
    assert log.problems == []
    assert found is not None
    return found


def value_of(text: str) -> Fraction | float:
    log = ProblemLog()
    formula = parse_formula(text, Place(file="-", line=1, column=1, text=text), log)
    assert formula is not None
    found = evaluate_formula(formula, {}, log)
    assert found is not None
    return found.value


def test_an_inch_is_25_4_mm_and_a_foot_304_8_mm() -> None:
    # Federal Register notice 59-5442: exactly, since 1 July 1959; quoted by a laboratory.
    assert Fraction("25.4") == MM_PER_INCH
    assert value_of("1 in") == Fraction("25.4")
    assert value_of("1 ft") == Fraction("304.8")
    assert value_of("3 ft") == Fraction("914.4")


def test_a_pound_is_0_45359237_kg() -> None:
    # NIST Handbook 44, appendix C, section 4; from memory.
    assert format_mass(45.359237, "imperial") == "100 lb"
    assert value_of("1 lb") == Fraction("0.45359237")


@pytest.mark.parametrize(("gauge", "diameter_in"), SHANK_DIAMETERS_IN.items())
def test_the_diameters_of_screws_follow_their_gauge(gauge: int, diameter_in: float) -> None:
    # ASME B18.6.1: D = 0.060 in + 0.013 in x gauge; quoted.
    rule_mm = float(value_of(f"0.060 in + 0.013 in * {gauge}"))

    assert inches(rule_mm) == pytest.approx(diameter_in, abs=0.0005)


def test_a_number_8_screw_is_4_17_mm_thick(catalogue: Catalogue) -> None:
    # Wood Handbook, FPL-GTR-190 (2010), table 8-9, shank diameters; read.
    screws = [s for s in catalogue.screws.values() if s.key.startswith("wood-8x")]

    assert {round(screw.diameter_mm, 2) for screw in screws} == {4.17}


@pytest.mark.parametrize("gauge", [6, 8, 10])
def test_wood_screws_of_the_catalogue_have_the_diameter_and_head_of_their_gauge(
    catalogue: Catalogue, gauge: int
) -> None:
    screws = [s for s in catalogue.screws.values() if s.key.startswith(f"wood-{gauge}x")]
    greatest, least = FLAT_HEADS_IN[gauge]

    assert len(screws) >= 5
    for screw in screws:
        assert inches(screw.diameter_mm) == pytest.approx(SHANK_DIAMETERS_IN[gauge], abs=0.0005)
        assert least - 0.0005 <= inches(screw.head_mm) <= greatest + 0.0005


def test_the_lead_hole_of_a_number_8_is_0_0917_in_soft_and_0_1179_in_hard() -> None:
    # NDS 1999 commentary, part XI, 11.1.2.1: 70 % and 90 % of the root; read. Root from memory.
    assert ROOT_DIAMETERS_IN[8] * 0.70 == pytest.approx(0.0917, abs=0.00005)
    assert ROOT_DIAMETERS_IN[8] * 0.90 == pytest.approx(0.1179, abs=0.00005)


@pytest.mark.parametrize("gauge", [6, 8, 10])
def test_the_pilot_bits_are_the_64ths_nearest_to_the_lead_hole(
    catalogue: Catalogue, gauge: int
) -> None:
    # NDS 1999 commentary, part XI, 11.1.2.1: 70 % and 90 % of the root; read. Root from memory.
    root_in = ROOT_DIAMETERS_IN[gauge]
    soft, hard = round(root_in * 0.70 * 64), round(root_in * 0.90 * 64)
    families = ["wood-10x"] if gauge == 10 else [f"wood-{gauge}x"]
    families += ["pocket-8x"] if gauge == 8 else []
    screws = [s for s in catalogue.screws.values() if s.key.startswith(tuple(families))]

    assert len(screws) >= 5
    for screw in screws:
        assert inches(screw.pilot_soft_mm) * 64 == pytest.approx(soft, abs=1e-6)
        assert inches(screw.pilot_hard_mm) * 64 == pytest.approx(hard, abs=1e-6)


def test_a_clearance_hole_lets_the_shank_pass_and_stops_the_head(catalogue: Catalogue) -> None:
    # Common practice, no source.
    for screw in catalogue.screws.values():
        if screw.kind == "face screw":
            assert screw.diameter_mm <= screw.clearance_mm <= screw.diameter_mm + 0.6
            assert screw.head_mm > screw.clearance_mm


def test_pocket_screws_follow_the_table_of_stock_and_length(catalogue: Catalogue) -> None:
    # Common practice, no source: stock → length, in the trade's own units.
    table = {
        "pocket-8x1": "1/2 in", "pocket-8x1-1/4": "3/4 in", "pocket-8x1-1/2": "1 in",
        "pocket-8x2": "1 1/4 in", "pocket-8x2-1/2": "1 1/2 in",
        "pocket-4.2x25": "12 mm", "pocket-4.2x30": "15 mm", "pocket-4.2x32": "18 mm",
        "pocket-4.2x38": "25 mm", "pocket-4.2x64": "38 mm",
        "pocket-7-finex1-1/4": "3/4 in", "pocket-7-finex1-1/2": "1 in",
        "pocket-3.8-finex32": "18 mm", "pocket-3.8-finex64": "38 mm",
    }  # fmt: skip
    for key, stock in table.items():
        screw = catalogue.screws[key]
        stock_mm = float(value_of(stock))
        suited = [
            s.key
            for s in catalogue.screws.values()
            if (s.kind, s.system, s.thread) == ("pocket screw", screw.system, screw.thread)
            if s.least_mm <= stock_mm <= s.most_mm
        ]

        assert suited == [key]
        assert screw.clearance_mm == pytest.approx(9.5, abs=0.03)


@pytest.mark.parametrize("key", CATEGORIES_IN)
def test_plywood_keeps_within_its_performance_category(catalogue: Catalogue, key: str) -> None:
    least, greatest = CATEGORIES_IN[key]

    assert least <= inches(catalogue.sheets[key].thickness_mm) <= greatest


def test_plywood_of_23_32_in_is_near_the_thickness_on_its_label(catalogue: Catalogue) -> None:
    # PS 1-19: performance category 23/32 is labelled 0.703 in, 17.86 mm; quoted. We keep its name.
    thickness_mm = catalogue.sheets["plywood-23/32"].thickness_mm

    assert 0.703 * 25.4 == pytest.approx(17.86, abs=0.005)
    assert inches(thickness_mm) == pytest.approx(0.703, abs=1 / 32)


def test_a_sanded_three_quarter_panel_is_within_a_64th(catalogue: Catalogue) -> None:
    # PS 1-19: sanded panels up to 3/4 in keep within 1/64 in; quoted.
    thickness_in = inches(catalogue.sheets["plywood-3/4"].thickness_mm)

    assert abs(thickness_in - 0.75) <= 1 / 64


@pytest.mark.parametrize("key", ["plywood-6", "plywood-9", "plywood-12", "plywood-18"])
def test_metric_plywood_carries_its_nominal_thickness(catalogue: Catalogue, key: str) -> None:
    # EN 315: sanded +(0.2 + 0.03 t), -(0.4 + 0.03 t) mm; from memory.
    nominal_mm = float(key.rpartition("-")[2])
    thickness_mm = catalogue.sheets[key].thickness_mm

    assert -(0.4 + 0.03 * nominal_mm) <= thickness_mm - nominal_mm <= 0.2 + 0.03 * nominal_mm


def test_full_sheets_are_48_by_96_inches_or_1220_by_2440_mm(catalogue: Catalogue) -> None:
    # NAVEDTRA 14069, chapter 6: the usual panel is 48 x 96 in; read. Metric: the trade, quoted.
    for sheet in catalogue.sheets.values():
        full = next(size for size in sheet.sizes if size.name == "full sheet")
        expected = (96 * 25.4, 48 * 25.4) if sheet.system == "imperial" else (2440.0, 1220.0)

        assert (full.length_mm, full.width_mm) == pytest.approx(expected)


def test_a_sheet_may_be_47_15_16_by_95_15_16_inches() -> None:
    # PS 1-19: up to 1/16 in short on length and width; quoted.
    assert value_of("48 in - 1/16 in") == value_of("47 15/16 in")
    assert value_of("96 in - 1/16 in") == value_of("95 15/16 in")


def test_the_trim_takes_up_what_a_sheet_may_be_short(catalogue: Catalogue) -> None:
    # PS 1-19: up to 1/16 in short, so 95 15/16 x 47 15/16 in; quoted. EN 315: 3.5 mm; from memory.
    for sheet in catalogue.sheets.values():
        short_mm = 25.4 / 16 if sheet.system == "imperial" else 3.5

        assert short_mm <= sheet.trim_mm


def test_ponderosa_pine_weighs_448_kg_per_cubic_metre(catalogue: Catalogue) -> None:
    # FPL-GTR-190, chapter 4, example: G 0.40 at 12 % moisture gives 448 kg/m3; quoted.
    example = 1000 * 0.40 * (1 + 12 / 100)

    assert example == pytest.approx(448, rel=0.001)
    assert 62.43 * 0.40 * (1 + 12 / 100) == pytest.approx(27.968, rel=0.001)
    assert 27.968 * 0.45359237 / 0.3048**3 == pytest.approx(448, rel=0.001)
    assert catalogue.materials["ponderosa-pine"].density_kg_m3 == pytest.approx(example, rel=0.001)


@pytest.mark.parametrize(
    ("key", "gravity"), [("douglas-fir", 0.48), ("red-maple", 0.54), ("white-oak", 0.68)]
)
def test_the_densities_of_woods_follow_from_their_specific_gravity(
    catalogue: Catalogue, key: str, gravity: float
) -> None:
    # FPL-GTR-190, table 12-1; read. Density = 1000 G (1 + 12/100).
    assert catalogue.materials[key].density_kg_m3 == pytest.approx(1120 * gravity, rel=0.002)


@pytest.mark.parametrize(
    ("key", "psi"), [("softwood-plywood", 950_000), ("mdf", 520_000), ("douglas-fir", 1_950_000),
                     ("red-maple", 1_640_000), ("white-oak", 1_780_000)],
)  # fmt: skip
def test_the_stiffness_of_woods_and_panels_is_the_published_one(
    catalogue: Catalogue, key: str, psi: int
) -> None:
    # Plywood: Architectural Woodwork Standards (2009), 4.4.14.10.11; the others: FPL-GTR-190,
    # table 12-1; read. 1 psi = 4.4482216 N / (25.4 mm)^2, rounded there to three figures.
    newtons_mm2 = psi * 4.4482216 / 25.4**2

    assert catalogue.materials[key].stiffness_n_mm2 == pytest.approx(newtons_mm2, rel=0.003)


@pytest.mark.parametrize("key", ["softwood-plywood", "birch-plywood", "thin-birch-plywood"])
def test_plywood_is_not_taken_for_stiffer_than_its_published_range(
    catalogue: Catalogue, key: str
) -> None:
    # FPL-GTR-190 (2010), table 12-1: 6.96 to 8.55 GPa; read. The lower figure of AWS is below it.
    assert 6550 <= catalogue.materials[key].stiffness_n_mm2 <= 8550


@pytest.mark.parametrize(("key", "least", "greatest"), [("softwood-plywood", 0.4, 0.6),
                                                        ("mdf", 0.7, 0.9)])  # fmt: skip
def test_the_densities_of_panels_lie_in_their_published_range(
    catalogue: Catalogue, key: str, least: float, greatest: float
) -> None:
    # FPL-GTR-190, table 12-1, specific gravity; read.
    assert least * 1000 <= catalogue.materials[key].density_kg_m3 <= greatest * 1000


@pytest.mark.parametrize(("key", "kg_m2"), [("birch-18", 11.6), ("birch-12", 8.1)])
def test_birch_plywood_weighs_what_its_table_says(
    catalogue: Catalogue, key: str, kg_m2: float
) -> None:
    # BS 5268-2:2002, table of Finnish birch plywood; quoted.
    sheet = catalogue.sheets[key]

    assert sheet.material.density_kg_m3 * sheet.thickness_mm / 1000 == pytest.approx(
        kg_m2, rel=0.005
    )


def test_a_sheet_of_18_mm_birch_weighs_34_53_kg(catalogue: Catalogue) -> None:
    # BS 5268-2:2002: 11.6 kg/m2; 1.22 m x 2.44 m; arithmetic.
    sheet = catalogue.sheets["birch-18"]
    full = sheet.sizes[0]
    volume_m3 = full.length_mm * full.width_mm * sheet.thickness_mm / 1e9

    assert volume_m3 * sheet.material.density_kg_m3 == pytest.approx(34.53, rel=0.005)


@pytest.mark.parametrize(
    ("key", "sheet", "pounds"),
    [("softwood-plywood", "plywood-23/32", 65.2), ("mdf", "mdf-3/4", 96.0)],
)
def test_a_four_by_eight_sheet_weighs_what_the_trade_says(
    catalogue: Catalogue, key: str, sheet: str, pounds: float
) -> None:
    # Arithmetic from 34 and 48 lb/ft3; the densities are common practice, no source.
    entry = catalogue.sheets[sheet]
    volume_m3 = 2.4384 * 1.2192 * entry.thickness_mm / 1000

    assert entry.material.key == key
    assert volume_m3 * entry.material.density_kg_m3 / 0.45359237 == pytest.approx(pounds, abs=0.1)


@pytest.mark.parametrize(
    ("mm", "printed"),
    [
        (18.0, "23/32 bare"),  # 1/32: 23/32, true length 0.256 mm less
        (17.86, "23/32 bare"),  # 1/32: 23/32, true length 0.396 mm less
        (12.0, "15/32"),  # 1/32: 15/32, off by 0.094 mm
        (9.0, "11/32 full"),  # 1/32: 11/32, true length 0.269 mm more
        (300.0, "11 13/16"),  # 1/16: off by 0.037 mm
        (800.0, "31 1/2"),  # 1/16: off by 0.100 mm
    ],
)
def test_millimetres_fall_on_the_marks_of_a_tape(mm: float, printed: str) -> None:
    # Arithmetic: the nearest 1/16 and 1/32 in and the remainder, worked out by hand.
    assert format_size(mm, "imperial") == printed


@pytest.mark.parametrize("key", [
    *("1x2", "1x3", "1x4", "1x6", "1x8", "1x10", "1x12"),
    *("2x2", "2x4", "2x6", "2x8", "2x10", "4x4"),
])  # fmt: skip
def test_boards_have_the_dressed_size_of_their_name(catalogue: Catalogue, key: str) -> None:
    # PS 20 (American Softwood Lumber Standard), least dressed sizes of dry lumber, by nominal size;
    # quoted, two copies of its table agree.
    thick_in = {1: 3 / 4, 2: 1.5, 4: 3.5}
    wide_in = {2: 1.5, 3: 2.5, 4: 3.5, 6: 5.5, 8: 7.25, 10: 9.25, 12: 11.25}
    thickness, width = (int(number) for number in key.split("x"))
    board = catalogue.boards[key]

    assert inches(board.thickness_mm) == pytest.approx(thick_in[thickness])
    assert inches(board.width_mm) == pytest.approx(wide_in[width])


def test_a_five_quarter_board_is_an_inch_thick(catalogue: Catalogue) -> None:
    # PS 20, least dressed sizes of dry lumber: nominal 1 1/4 (5/4) is 1 in; quoted.
    board = catalogue.boards["5/4x6"]

    assert inches(board.thickness_mm) == pytest.approx(1.0)
    assert inches(board.width_mm) == pytest.approx(5.5)


def test_inch_boards_are_sold_in_steps_of_two_feet(catalogue: Catalogue) -> None:
    # PS 20 and the trade: lengths in steps of 2 ft, from 6 ft up; quoted.
    boards = [
        board
        for board in catalogue.boards.values()
        if board.system == "imperial" and not board.is_round
    ]
    feet = {round(inches(size.length_mm) / 12, 6) for board in boards for size in board.sizes}

    assert feet == {6.0, 8.0, 10.0, 12.0, 14.0, 16.0}


def test_metric_boards_have_the_section_of_their_name(catalogue: Catalogue) -> None:
    # Common practice, no source: a planed board is sold under the size it has.
    boards = [
        board
        for board in catalogue.boards.values()
        if board.system == "metric" and not board.is_round
    ]

    assert len(boards) >= 8
    assert [f"{board.thickness_mm:g}x{board.width_mm:g}" for board in boards] == [
        board.key.removeprefix("oak-") for board in boards
    ]


def test_no_name_is_both_a_sheet_and_a_board(catalogue: Catalogue) -> None:
    assert set(catalogue.sheets) & set(catalogue.boards) == set()


def test_every_entry_names_its_source(catalogue: Catalogue) -> None:
    groups = (
        catalogue.sheets,
        catalogue.boards,
        catalogue.screws,
        catalogue.materials,
        catalogue.tools,
    )
    entries = [entry for group in groups for entry in group.values()]

    assert len(entries) > 50
    assert [entry.key for entry in entries if len(entry.source) < 10] == []


def test_kerfs_lie_in_the_range_of_their_saws(catalogue: Catalogue) -> None:
    # Common practice, no source: from 1 mm (jigsaw) to 1/8 in (table saw); tilt up to 45 degrees.
    saws = [tool for tool in catalogue.tools.values() if tool.kerf_mm is not None]

    assert len(saws) >= 4
    assert all(saw.kerf_mm is not None and 1.0 <= saw.kerf_mm <= 3.2 for saw in saws)
    assert {saw.tilt_limit_deg for saw in saws} <= {None, 45.0}
