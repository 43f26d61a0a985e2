"""The shop of a library: prices, limits and offcuts go into the catalogue, faults are all told."""

from pathlib import Path

import pytest

from generator.catalogue.shop import stock_up
from generator.design.library_file import LibraryFile, read_library_file
from generator.model.catalogue import Catalogue, SheetSize
from generator.problems import Problem, ProblemLog
from tests.little_designs import ROOT, codes, say, shared_catalogue

HEAD = "title: Little\n"


def _read(folder: Path, text: str) -> tuple[Catalogue, list[Problem]]:
    (folder / "library.yml").write_text(HEAD + text, encoding="utf-8")
    log = ProblemLog()
    library = read_library_file(folder, log)
    catalogue = stock_up(shared_catalogue(), library.shop, log)
    return catalogue, log.problems


def _sizes(catalogue: Catalogue, key: str = "plywood-18") -> tuple[SheetSize, ...]:
    return catalogue.sheets[key].sizes


def test_a_library_that_says_nothing_of_a_shop_changes_nothing(tmp_path: Path) -> None:
    catalogue, problems = _read(tmp_path, "says: Plans.\n")

    assert problems == []
    assert catalogue == shared_catalogue()


def test_the_example_of_the_guide_is_read(tmp_path: Path) -> None:
    text = (ROOT / "tests" / "libraries" / "my-plans.yml").read_text(encoding="utf-8")
    catalogue, problems = _read(tmp_path, text.partition("\n")[2])
    full, half, quarter, rack = _sizes(catalogue)

    assert say(problems) == ""
    assert [58.0, 33.0, None] == [full.price, half.price, quarter.price]
    assert [None, 2, 0] == [full.at_most, half.at_most, quarter.at_most]
    assert SheetSize(
        name="rack", length_mm=1000, width_mm=450, price=0, at_most=1, is_owned=True
    ) == rack  # fmt: skip
    assert {"imperial": "dollars", "metric": "euros"} == catalogue.currency
    assert catalogue.prices_say == "Asked at the yard in March."


def test_sizes_without_a_price_are_sold_until_one_has_a_price(tmp_path: Path) -> None:
    limited, _ = _read(tmp_path, "shop: {sells: {plywood-18: {half sheet: {at_most: 1}}}}\n")
    priced, _ = _read(
        tmp_path, "shop: {currency: crowns, sells: {plywood-18: {half sheet: 33.50}}}\n"
    )

    assert [None, 1, None] == [size.at_most for size in _sizes(limited)]
    assert [0, None, 0] == [size.at_most for size in _sizes(priced)]
    assert [None, 33.5, None] == [size.price for size in _sizes(priced)]
    assert {"imperial": "crowns", "metric": "crowns"} == priced.currency


def test_an_offcut_of_a_board_has_the_width_of_the_board(tmp_path: Path) -> None:
    catalogue, problems = _read(tmp_path, "offcuts: {rest: {of: 38x89, size: [1 m], count: 3}}\n")
    rest = catalogue.boards["38x89"].sizes[-1]

    assert problems == []
    assert (1000, 89, 3, True) == (rest.length_mm, rest.width_mm, rest.at_most, rest.is_owned)


SHOP = "shop:\n  currency: euros\n  sells:\n    "


@pytest.mark.parametrize(
    ("code", "text", "words"),
    [
        ("K107", SHOP + "plywood-18: {full sheet: -58}", "is -58; a price is more than 0"),
        ("K107", SHOP + "plywood-18: {full sheet: 0}", "is 0; a price is more than 0"),
        ("K107", SHOP + "plywood-18: {full sheet: 5.125}", "two digits after the point"),
        ("K107", SHOP + "plywood-18: {full sheet: {at_most: 1.5}}", "a whole number from 0"),
        ("K107", SHOP + "plywood-18: {full sheet: {at_most: -1}}", "a whole number from 0"),
        (
            "K107",
            SHOP + "plywood-18: {full sheet: 58, half sheet: {at_most: 1}}",
            "give it one too, or `at_most: 0`",
        ),
        ("D205", SHOP + "plywod-18: {full sheet: 58}", "no entry `plywod-18`"),
        ("D107", SHOP + "plywood-18: {ful sheet: 58}", "`ful sheet`"),
        ("D107", SHOP + "38x89: {2500 mm: 8}", "`2500 mm`"),
        ("E106", SHOP + "plywood-18: {full sheet: 58 mm}", "58 mm"),
        ("D105", "shop: {sells: {plywood-18: {full sheet: 58}}}", "`currency` is missing"),
        ("D104", "shop: {currency: euros, sell: {}}", "unknown key `sell`"),
        ("D106", "shop: {currency: euros, sells: {plywood-18: 58}}", "a mapping of sizes"),
        ("D205", "offcuts: {rest: {of: plywood-81, size: [1 m, 1 m]}}", "no entry `plywood-81`"),
        ("D106", "offcuts: {rest: {of: plywood-18, size: [1 m]}}", "[length, width]"),
        ("D106", "offcuts: {rest: {of: 38x89, size: [1 m, 89 mm]}}", "[length]"),
        ("D106", "offcuts: {rest: {of: 38x89, size: []}}", "a list of 0"),
        ("K107", "offcuts: {rest: {of: plywood-18, size: [1 m, 10 mm]}}", "nothing of it is left"),
        ("K107", "offcuts: {rest: {of: 38x89, size: [1 m], count: 0}}", "a whole number from 1"),
        ("D105", "offcuts: {rest: {size: [1 m, 1 m]}}", "`of` is missing"),
        ("D110", "offcuts: {My Rest: {of: 38x89, size: [1 m]}}", "not a name"),
    ],
)
def test_a_fault_of_the_shop_is_told_in_plain_words(
    tmp_path: Path, code: str, text: str, words: str
) -> None:
    _, problems = _read(tmp_path, text + "\n")

    assert codes(problems) == [code]
    assert words in say(problems)
    assert "library.yml:" in say(problems)


def test_all_faults_of_a_shop_are_told_at_once(tmp_path: Path) -> None:
    text = SHOP + "plywood-18: {full sheet: -58, half shet: 3}\n    plywod-12: {full sheet: 4}\n"
    _, problems = _read(tmp_path, text)

    assert sorted(codes(problems)) == ["D107", "D205", "K107"]


def test_more_offcuts_than_a_shelf_holds_are_refused(tmp_path: Path) -> None:
    rows = "".join(f"  rest_{n}: {{of: 38x89, size: [1 m]}}\n" for n in range(101))

    assert ["D116"] == codes(_read(tmp_path, "offcuts:\n" + rows)[1])


def test_no_library_file_is_a_library_without_a_shop(tmp_path: Path) -> None:
    assert LibraryFile() == read_library_file(tmp_path, ProblemLog())
