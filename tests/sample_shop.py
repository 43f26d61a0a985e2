"""Cuts at the shop and other saws for the sample plan, small enough to be read at a glance."""

from dataclasses import replace

from generator.model.cutting import CarPiece, OtherSaw, ShopCut, ShopList
from generator.model.plan import Plan
from generator.model.workshop import Car
from tests.samples import sample_plan

SMALL = Car(name="a small car", length_mm=1250.0, width_mm=800.0)
ESTATE = Car(name="an estate car", length_mm=1800.0, width_mm=1000.0)


def make_cut(order: int) -> ShopCut:
    """Return a cut across sheet 1, 1219 mm from its left edge."""
    return ShopCut(
        order=order,
        sheet=1,
        kind="crosscut",
        size_mm=1219.0,
        start=(1220.1, 0.0),
        end=(1220.1, 1220.0),
        of="sheet 1",
        gives=("1a", "1b"),
        replaces=5,
    )


def make_list(car: Car, cuts: int, *, too_large: tuple[str, ...] = ()) -> ShopList:
    """Return a list with so many cuts, two pieces taken home and one left there."""
    pieces = [
        ("1a", 1219.0, ("A", "C", "A"), True),
        ("1b", 600.0, (), True),
        ("1c", 9.0, (), False),
    ]
    return ShopList(
        car=car,
        taker=replace(car, length_mm=1835.0) if too_large else car,
        too_large=too_large,
        cuts=tuple(make_cut(order) for order in range(1, cuts + 1)),
        pieces=tuple(
            CarPiece(
                name=name,
                sheet=1,
                length_mm=length,
                width_mm=400.0,
                labels=labels,
                fits=kept,
                is_kept=kept,
            )
            for name, length, labels, kept in pieces
        ),
    )


def shop_plan(*lists: ShopList, saws: tuple[OtherSaw, ...] = ()) -> Plan:
    """Return the metric sample plan with these lists and other saws."""
    plan = sample_plan("metric")
    return replace(plan, cutting=replace(plan.cutting, shop_lists=lists, other_saws=saws))
