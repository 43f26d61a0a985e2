"""What a plan costs, as its readers and programs are told: prices, sums, and what is proved."""

import csv
import io
from dataclasses import replace

from generator.build import build_plan
from generator.catalogue.shop import stock_up
from generator.design.read_shop import read_shop
from generator.model.cutting import Cutting
from generator.model.plan import Plan
from generator.outputs.plan_json import plan_to_dict
from generator.outputs.tables import shopping_csv
from generator.problems import ProblemLog
from generator.telling.buying_tables import (
    cost_words,
    make_facts,
    make_sheets_bought,
    make_shopping,
    sheets_words,
)
from generator.units import format_money
from generator.yaml_source.getters import MappingReader, find_entries
from generator.yaml_source.parse import parse_yaml
from tests.little_designs import catalogue_of, plan_of, read_text, say

HEAD = """\
title: Little
stands: hung
date: 2026-11-25
stock:
  panel: {imperial: plywood-23/32, metric: plywood-18}
  rail: {imperial: 2x4, metric: 38x89}
"""
SHELF = """
parts:
  shelf: {from: panel, length: 1000 mm, width: 300 mm, runs: {length: right, width: back}}
  post: {from: rail, length: 900 mm, runs: {length: up, width: back}, corner: [0 mm, 0 mm, panel]}
joints:
  - {join: post to shelf, with: glue}
steps:
  - {title: All, fit: 'shelf, post'}
"""
OWN = "offcuts:\n  old_door: {of: panel, size: [1100 mm, 400 mm]}\n"
SHOP = """
shop:
  says: Asked on Monday.
  currency: {imperial: dollars, metric: euros}
  sells:
    plywood-18: {full sheet: 58, quarter sheet: 19.5}
    38x89: {2400 mm: 7.90}
"""


def _plan(text: str = SHELF, shop: str = SHOP) -> Plan:
    log = ProblemLog()
    root = parse_yaml(shop, "library.yml", log)
    entries = None if root is None else find_entries(root, log)
    assert entries is not None
    source = read_shop(MappingReader(entries, log), log)
    catalogue = stock_up(catalogue_of(), source, log)
    plan, problems = build_plan(read_text(text, HEAD), catalogue, "metric")
    assert plan is not None, say((*problems, *log.problems))
    return plan


def test_an_amount_has_two_digits_after_the_point_and_its_currency() -> None:
    assert "27.40 euros" == format_money(27.4, "euros")
    assert "0.00" == format_money(0.0, "")


def test_the_facts_say_what_the_wood_costs_and_the_list_what_each_line_does() -> None:
    plan = _plan()
    table = make_shopping(plan)

    assert ("Cost of the wood", "27.40 euros") in make_facts(plan)
    assert ["Item", "How many", "Price, euros", "Note"] == [one.title for one in table.columns]
    assert ["19.50", "7.90"] == [row[2] for row in table.rows[:2]]
    assert {""} == {row[2] for row in table.rows[2:]}


def test_the_sum_says_that_it_is_proved_and_where_the_prices_come_from() -> None:
    (first, *_) = make_sheets_bought(_plan())

    assert first == (
        "Sheets and boards cost 27.40 euros together. Proved cheapest: no other choice of them "
        "gives these parts for less. Asked on Monday."
    )


def test_a_sum_that_is_not_proved_says_how_much_less_another_might_cost() -> None:
    plan = _plan()
    (need,) = plan.cutting.needs
    loose = replace(need, proved_least=False, cost_bound=15.0)
    words = make_sheets_bought(replace(plan, cutting=_with(plan.cutting, loose)))

    assert "Proved" not in " ".join(words)
    assert "might cost less, but by no more than 4.50 euros." in words[0]
    assert words[1].endswith("might be cheaper, but by no more than 4.50 euros.")


def _with(cutting: Cutting, need: object) -> Cutting:
    return replace(cutting, needs=(need,))  # type: ignore[arg-type]


def test_where_only_some_prices_are_known_the_sum_names_what_it_leaves_out() -> None:
    plan = _plan(shop=SHOP.partition("    38x89")[0])

    assert "19.50 euros, without 38 × 89 mm softwood board, planed" == cost_words(plan)
    assert ["rail"] == plan_to_dict(plan)["figures"]["cost"]["unpriced"]


def test_without_prices_nothing_is_said_of_them() -> None:
    plan = plan_of(SHELF, head=HEAD)

    assert "" == cost_words(plan)
    assert ["Item", "How many", "Note"] == [one.title for one in make_shopping(plan).columns]
    assert None is plan_to_dict(plan)["figures"]["cost"]
    assert "cost" not in " ".join(make_sheets_bought(plan))


def test_an_offcut_of_the_makers_own_is_listed_as_already_yours_and_costs_nothing() -> None:
    plan = _plan(OWN + SHELF)
    row = make_shopping(plan).rows[0]

    assert "18 mm plywood, sanded, old door" == row[0]
    assert ("1 offcut", "") == row[1:3]
    assert row[3].endswith("; already yours")
    assert "1 board, 1 offcut" == sheets_words(plan)
    assert "7.90 euros" == cost_words(plan)


def test_programs_read_prices_what_is_owned_and_the_sum() -> None:
    data = plan_to_dict(_plan(OWN + SHELF))

    assert [(0.0, True)] == [(one["price"], one["owned"]) for one in data["sheets"]]
    assert [(7.9, False)] == [(one["price"], one["owned"]) for one in data["boards"]]
    assert [(None, True), (7.9, False)] == [
        (one["price"], one["owned"]) for one in data["shopping"][:2]
    ]
    assert data["figures"]["cost"] == {
        "amount": 7.9,
        "bound": 7.9,
        "currency": "euros",
        "unpriced": [],
        "proved_least": True,
    }


def test_the_table_of_the_shopping_list_has_prices_with_their_currency() -> None:
    rows = list(csv.DictReader(io.StringIO(shopping_csv(_plan(OWN + SHELF)).decode("utf-8"))))

    assert [("0", "euros"), ("7.9", "euros"), ("", "")] == [
        (row["price"], row["currency"]) for row in rows[:3]
    ]
