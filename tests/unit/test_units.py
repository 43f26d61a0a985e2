"""How lengths, angles and masses are printed."""

from fractions import Fraction

import pytest

from generator.units import (
    CARRY_SIGNS,
    SYSTEMS,
    UNITS,
    System,
    carrying,
    format_angle,
    format_both,
    format_fraction,
    format_length,
    format_mass,
    format_size,
    inches,
    shown_mm,
)

INCH = 25.4


@pytest.mark.parametrize(
    ("mm", "expected"),
    [
        (34.5 * INCH, "34 1/2"),
        (0.75 * INCH, "3/4"),
        (12 * INCH, "12"),
        (23 / 32 * INCH, "23/32"),
        (300.0, "11 13/16"),
        (800.0, "31 1/2"),
        (0.0, "0"),
        (-3.5 * INCH, "-3 1/2"),
        (10.05 * INCH, "10 1/16 bare"),
        (10.01 * INCH, "10 full"),
        (-10.01 * INCH, "-10 full"),
        (0.3, "0.012"),
        (-0.3, "-0.012"),
        (0.05, "0"),
        (-0.05, "0"),
    ],
)
def test_inches_are_printed_as_a_tape_shows_them(mm: float, expected: str) -> None:
    assert format_size(mm, "imperial") == expected


@pytest.mark.parametrize(
    ("mm", "expected"),
    [
        (876.0, "876"),
        (876.04, "876"),
        (875.96, "876"),
        (17.9, "17.9"),
        (18.1, "18.1"),
        (0.1, "0.1"),
        (0.9, "0.9"),
        (12.5, "12.5"),
        (12.25, "12.3"),
        (-0.02, "0"),
        (-12.5, "-12.5"),
    ],
)
def test_millimetres_are_printed_whole_or_to_a_tenth(mm: float, expected: str) -> None:
    assert format_size(mm, "metric") == expected


@pytest.mark.parametrize(
    ("mm", "system", "expected"),
    [
        (300.0, "imperial", 11.8125 * INCH),
        (18.0, "imperial", 23 / 32 * INCH),
        (-300.0, "imperial", -11.8125 * INCH),
        (875.96, "metric", 876.0),
        (17.88, "metric", 17.9),
    ],
)
def test_the_shown_length_is_the_mark_that_is_printed(
    mm: float, system: System, expected: float
) -> None:
    assert shown_mm(mm, system) == pytest.approx(expected, abs=1e-9)


def test_a_length_carries_its_unit() -> None:
    assert format_length(876, "metric") == "876 mm"
    assert format_length(34.5 * INCH, "imperial") == "34 1/2 in"


def test_a_message_gives_millimetres_after_inches() -> None:
    assert format_both(INCH / 16, "imperial") == "1/16 in (1.6 mm)"
    assert format_both(1.5875, "metric") == "1.6 mm"
    assert format_both(0.3, "imperial") == "0.012 in (0.3 mm)"


def test_angles_are_printed_to_a_tenth_of_a_degree() -> None:
    assert [format_angle(value) for value in (12, 14.51, 9.96, -0.01, -3.25)] == [
        "12°",
        "14.5°",
        "10°",
        "0°",
        "-3.2°",
    ]


def test_a_mass_is_printed_in_the_editions_own_unit() -> None:
    assert format_mass(5.62, "metric") == "5.6 kg"
    assert format_mass(0.45359237 * 12.4, "imperial") == "12.4 lb"


def test_a_fraction_is_printed_in_lowest_terms() -> None:
    assert [format_fraction(Fraction(n, 16)) for n in (0, 4, 16, 40, -8, -24)] == [
        "0",
        "1/4",
        "1",
        "2 1/2",
        "-1/2",
        "-1 1/2",
    ]


def test_every_unit_has_a_kind_and_a_factor_above_zero() -> None:
    assert {kind for kind, _ in UNITS.values()} == {"length", "angle", "mass"}
    assert all(factor > 0 for _, factor in UNITS.values())
    assert UNITS["ft"][1] == 12 * UNITS["in"][1]


def test_inches_and_back_is_the_same_length() -> None:
    assert inches(2540) == pytest.approx(100)
    assert SYSTEMS == ("imperial", "metric")


def test_a_hair_more_or_less_is_said_after_the_unit() -> None:
    assert format_length(348.7607, "imperial") == "13 23/32 in full"
    assert format_length(26.0, "imperial") == "1 1/32 in bare"
    assert format_length(457.2, "imperial") == "18 in"


def test_half_way_between_two_marks_the_upper_one_is_told_whatever_the_last_bit_says() -> None:
    half_way_mm = 36.359375 * 25.4

    told = {format_size(half_way_mm + noise, "imperial") for noise in (-1e-8, 0.0, 1e-8)}
    metric = {format_size(12.25 + noise, "metric") for noise in (-1e-8, 0.0, 1e-8)}

    assert told == {"36 3/8 bare"}
    assert metric == {"12.3"}


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_carrying_system_decides_and_prints_alike_and_brings_the_value(system: System) -> None:
    carried = carrying(system)

    assert carried == system
    assert {system: 1}[carried] == 1
    for value in (0.0, 348.7612, -12.7, 18.25625):
        for form in (format_size, format_length):
            text = form(value, carried)
            begin, middle, end = CARRY_SIGNS

            assert text[0] == begin
            assert text[-1] == end
            assert text[2:].partition(middle)[2][:-1] == form(value, system)
            assert int(text[2:].partition(middle)[0]) == round(value * 1000)
            assert text[1] == {"format_size": "s", "format_length": "l"}[form.__name__]
