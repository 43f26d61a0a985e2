"""How large a flat piece the maker's car takes."""

import pytest

from generator.model.workshop import Car
from generator.units import System
from tests.little_designs import edition_of, edition_problems, plan_of

SHELF = """\
parts:
  shelf:
    from: panel
    length: 500 mm
    width: 200 mm
    runs: {length: right, width: back}
"""
SIDE = """\
  side:
    from: panel
    length: 300 mm
    width: 200 mm
    runs: {length: up, width: back}
    corner: [-panel, 0 mm, 0 mm]
joints:
  - {join: shelf to side, with: glue}
steps:
  - {title: Glue it, fit: "shelf, side"}
"""


@pytest.mark.parametrize(
    ("system", "size"), [("imperial", (1524.0, 914.4)), ("metric", (1.5e3, 900.0))]
)
def test_a_car_has_its_size_in_each_edition_the_longer_way_first(
    system: System, size: tuple[float, float]
) -> None:
    short, long = "{imperial: 36 in, metric: 900 mm}", "{imperial: 60 in, metric: 1.5 m}"
    car = f"car:\n  length: {short}\n  width: {long}\n"

    assert edition_of(SHELF + car, system).car == Car(
        name="the maker's car", length_mm=size[0], width_mm=size[1]
    )


def test_a_design_that_names_no_car_has_none() -> None:
    assert edition_of(SHELF).car is None


def test_the_shop_cuts_for_the_car_of_the_design_first() -> None:
    """The sheet of the little designs is 4 m long, and the car is longer."""
    car = "car: {length: 4 m, width: 2 m}\n"
    first, *others = plan_of(SHELF + SIDE + car).cutting.shop_lists

    assert (first.car.length_mm, first.car.width_mm, first.cuts) == (4000.0, 2000.0, ())
    assert all(one.cuts for one in others)


def test_a_car_that_takes_less_than_anyone_carries_is_told() -> None:
    (problem,) = edition_problems(SHELF + "car: {length: 4 m, width: 299 mm}\n")

    assert problem.code == "E101"
    assert problem.what == "`299 mm` is 299 mm; a car takes pieces of 300 mm at least"
