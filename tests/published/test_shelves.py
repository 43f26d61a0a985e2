"""How shelves sag, against published coefficients and a published table; sources beside each.

"Read" means that the text of the source was read in a stored copy; "from memory" that it was not.
"""

from fractions import Fraction

import pytest

from generator.model.strength import MOST_SAG
from generator.strength.beams import (
    COEFFICIENTS,
    CREEP,
    BeamEnds,
    LoadShape,
    deflect,
    deflect_overhang,
    inertia_mm4,
)

INCH_MM = 25.4
N_PER_LBF = 4.4482216152605
"""0.45359237 kg times 9.80665 m/s2, both exact."""
N_MM2_PER_PSI = N_PER_LBF / INCH_MM**2

# Architectural Woodwork Standards (2009), 4.4.14.10.11 to 13: modulus in psi, thickness in inches,
# load in lb per square foot, greatest length of an adjustable shelf in inches; read.
GREATEST_LENGTHS = [
    (950_000, 0.75, 40, 40), (950_000, 0.75, 50, 37), (950_000, 1.0, 40, 53),
    (950_000, 1.0, 50, 49), (1_800_000, 0.75, 40, 49), (1_800_000, 0.75, 50, 46),
    (1_800_000, 1.0, 40, 66), (1_800_000, 1.0, 50, 61), (1_820_000, 0.75, 40, 49),
    (1_820_000, 0.75, 50, 46), (1_820_000, 1.0, 40, 66), (1_820_000, 1.0, 50, 61),
]  # fmt: skip


def sag_in(
    shape: LoadShape,
    ends: BeamEnds,
    *,
    length: float,
    width: float,
    thick: float,
    psi: float,
    pounds: float,
) -> float:
    """Return the sag in inches of a shelf told of in inches, pounds and psi."""
    stiffness = psi * N_MM2_PER_PSI * inertia_mm4(width * INCH_MM, thick * INCH_MM)
    return deflect(shape, ends, pounds * N_PER_LBF, length * INCH_MM, stiffness) / INCH_MM


def test_the_coefficients_are_those_of_the_wood_handbook() -> None:
    # Wood Handbook, FPL-GTR-190 (2010), table 9-1; read.
    assert {
        ("spread", "simple"): Fraction(5, 384),
        ("spread", "clamped"): Fraction(1, 384),
        ("spot", "simple"): Fraction(1, 48),
        ("spot", "clamped"): Fraction(1, 192),
        ("spread", "cantilever"): Fraction(1, 8),
        ("spot", "cantilever"): Fraction(1, 3),
    } == COEFFICIENTS


def test_a_shelf_may_sag_by_a_144th_of_its_span() -> None:
    # Architectural Woodwork Standards (2009), 1.2.21.3.1.1: 1/4 in at 36 in; read.
    assert Fraction(1, 4) / 36 == MOST_SAG


@pytest.mark.parametrize(("psi", "thick", "load", "greatest"), GREATEST_LENGTHS)
def test_the_greatest_length_of_a_shelf_is_the_published_one(
    psi: float, thick: float, load: float, greatest: float
) -> None:
    """A strip a foot wide sags by 1/144 of its length; the sag grows with the fourth power of it.

    The table gives whole inches: eleven of its rows are rounded down, one to the nearest.
    """
    trial = 48.0
    sag = sag_in(
        "spread", "simple", length=trial, width=12, thick=thick, psi=psi, pounds=load * trial / 12
    )
    length = trial * (float(MOST_SAG) * trial / sag) ** (1 / 3)

    assert length == pytest.approx(greatest, abs=0.75)
    assert length == pytest.approx((384 * psi * thick**3 / (5 * load / 12 * 144)) ** (1 / 3))


def test_a_book_shelf_of_a_yard_sags_by_0_096_in_and_in_years_by_0_144() -> None:
    # Arithmetic from table 9-1; NDS 3.5.2 for the years, quoted by the body that keeps the code.
    sag = sag_in("spread", "simple", length=36, width=11.25, thick=0.75, psi=1.2e6, pounds=75)

    assert sag == pytest.approx(0.0960, abs=0.00005)
    assert CREEP * sag == pytest.approx(0.144, abs=0.0001)


def test_four_inches_less_of_span_make_a_third_less_of_sag() -> None:
    # Arithmetic from table 9-1: the same shelf, 32 in long, loaded alike by the foot.
    pounds = 25 * 32 / 12
    sag = sag_in("spread", "simple", length=32, width=11.25, thick=0.75, psi=1.2e6, pounds=pounds)

    assert sag == pytest.approx(0.0599, abs=0.00005)


def test_a_particleboard_shelf_of_a_yard_fails_under_library_books() -> None:
    # Arithmetic from table 9-1; 50 lb per square foot: Architectural Woodwork Standards, read.
    sag = sag_in("spread", "simple", length=36, width=12, thick=0.75, psi=0.45e6, pounds=150)

    assert sag == pytest.approx(0.480, abs=0.0005)
    assert sag > float(MOST_SAG) * 36


@pytest.mark.parametrize(
    ("shape", "ends", "inches"),
    [
        ("spot", "simple", 0.0886),
        ("spot", "clamped", 0.0222),
        ("spread", "simple", 0.0554),
        ("spread", "clamped", 0.0111),
    ],
)
def test_fifty_pounds_bend_a_pine_shelf_as_worked_out(
    shape: LoadShape, ends: BeamEnds, inches: float
) -> None:
    # Arithmetic from table 9-1.
    sag = sag_in(shape, ends, length=36, width=12, thick=0.75, psi=1.3e6, pounds=50)

    assert sag == pytest.approx(inches, abs=0.00006)


@pytest.mark.parametrize(("length", "sag"), [(800.0, 1.907), (900.0, 3.054)])
def test_a_metric_shelf_sags_as_worked_out(length: float, sag: float) -> None:
    # Arithmetic from table 9-1: 25 lb/ft is 364.85 N/m.
    load = 364.85 * length / 1000

    assert deflect("spread", "simple", load, length, 7000 * inertia_mm4(300, 18)) == pytest.approx(
        sag, abs=0.0005
    )


def test_twenty_five_pounds_a_foot_are_364_85_newtons_a_metre() -> None:
    # NIST Handbook 44, appendix C: the pound and the foot; from memory.
    assert 25 * N_PER_LBF / 0.3048 == pytest.approx(364.85, abs=0.005)


def test_a_metre_of_18_mm_birch_plywood_has_the_second_moment_of_its_table() -> None:
    # BS 5268-2:2002, table of Finnish birch plywood: 417 000 mm4/m at the least thickness, 17.1 mm;
    # quoted by an engineering reference.
    assert inertia_mm4(1000, 17.1) == pytest.approx(417e3, rel=0.002)


def test_the_end_of_a_board_that_stands_out_goes_down_as_beam_tables_say() -> None:
    # Beam tables of structural handbooks: P a2 (l + a) / 3EI at the end of an overhang, and
    # w a3 (4l + 3a) / 24EI where only the overhang is loaded; from memory.
    a, span, stiffness, load = 200.0, 700.0, 9e8, 300.0

    spot = deflect_overhang("spot", load, a, span, stiffness)
    spread = deflect_overhang("spread", load, a, span, stiffness)

    assert spot == pytest.approx(load * a**2 * (span + a) / (3 * stiffness))
    assert spread == pytest.approx(load / a * a**3 * (4 * span + 3 * a) / (24 * stiffness))
