"""What a page can follow: ranges and reasons, texts, several stocks, and where it says no."""

from dataclasses import replace
from pathlib import Path

from generator.build import build_plan
from generator.model.measured import Change, FollowedText, Measured, MeasuredStock, Wording
from generator.pages.entries import make_entry
from generator.targets import read_variant
from generator.thickness.follow import follow_thickness, why_nothing
from generator.thickness.together import find_text
from tests.followed_plans import follow_demo
from tests.little_designs import ROOT, shared_catalogue
from tests.sample_site import sample_artifacts


def _follow(folder: Path, slug: str, *, ranges: bool = True) -> Measured:
    """Return what the metric page of a design follows; without ranges, no sheet has any."""
    design, problems = read_variant(ROOT / "designs", slug, "", {})
    assert design is not None, problems
    catalogue = shared_catalogue()
    if not ranges:
        sheets = {key: replace(one, range_mm=None) for key, one in catalogue.sheets.items()}
        catalogue = replace(catalogue, sheets=sheets)
    plan, problems = build_plan(design, catalogue, "metric", routed=False)
    assert plan is not None, problems
    artifacts = sample_artifacts(plan, folder)
    entry = make_entry({"metric": plan}, {"metric": artifacts})
    return follow_thickness(design, catalogue, plan, artifacts, entry)


def test_a_plan_of_boards_alone_has_nothing_to_follow(tmp_path: Path) -> None:
    assert _follow(tmp_path, "sawhorse") == Measured()


def test_a_plan_that_can_follow_nothing_says_why() -> None:
    stock = replace(_stock(18.0, (18.0, 18.0)), below="it tips", above="screws meet")

    assert why_nothing([stock]) == "where it is thinner, it tips; where it is thicker, screws meet"
    assert why_nothing([_stock(18.0, (17.0, 19.0))]) == "no size of this plan hangs on it"


def test_a_sheet_of_which_no_range_is_known_is_not_followed(tmp_path: Path) -> None:
    assert _follow(tmp_path, "splayed-planter", ranges=False) == Measured()


def test_two_stocks_are_followed_together_and_each_within_its_standard() -> None:
    measured = follow_demo("pantry-shelf", "metric").measured

    assert [stock.key for stock in measured.stocks] == ["plywood-18", "plywood-12"]
    assert [(stock.least_mm, stock.most_mm) for stock in measured.stocks] == [
        (17.1, 18.7),
        (11.2, 12.6),
    ]
    assert not measured.alone


def test_a_screw_that_no_longer_suits_ends_the_range_in_words() -> None:
    """A stool of 18 mm just has room for its pocket screws: with more they grow, and meet."""
    stock = follow_demo("step-stool", "metric").measured.stocks[0]

    assert stock.most_mm == 18.0
    assert stock.above.startswith("screw 1 of joint `side.left to lower_tread` runs into the path")
    assert stock.below == ""


def test_masses_and_what_is_bought_stay_as_planned() -> None:
    followed = follow_demo("pantry-shelf", "metric")
    words = [part for text in followed.measured.texts for part in text.wording.parts]

    assert not any("kg" in part for part in words)
    assert not any("needed" in part for part in words)


def _text(*along: tuple[Change | None, ...]) -> FollowedText:
    wording = Wording(parts=("", ""), kinds="s")
    return FollowedText(number=4, wording=wording, values_mm=(700.0,), along=along)


def _stock(planned_mm: float, *pieces: tuple[float, float]) -> MeasuredStock:
    return MeasuredStock(
        key="ply",
        title="ply",
        planned_mm=planned_mm,
        least_mm=pieces[0][0],
        most_mm=pieces[-1][1],
        source="test",
        pieces=pieces,
        below="",
        above="",
    )


def _change(start_mm: float, slope: float, words: str = "") -> Change:
    wording = Wording(parts=(words, ""), kinds="s")
    return Change(wording=wording, start_mm=(start_mm,), slopes=(slope,))


def test_what_two_stocks_change_adds_up() -> None:
    stocks = (_stock(18.0, (17.0, 19.0)), _stock(12.0, (11.0, 13.0)))
    text = _text((_change(702.0, -2.0),), (_change(701.0, -1.0),))

    assert find_text(text, stocks, (17.5, 12.25)) == (text.wording, (700.75,))
    assert find_text(text, stocks, (18.0, 12.0)) == (text.wording, (700.0,))


def test_between_two_pieces_the_nearer_one_counts() -> None:
    stocks = (_stock(18.0, (17.0, 17.8), (17.9, 19.0)),)
    text = _text((_change(702.0, -2.0, "short "), None))

    found = find_text(text, stocks, (17.84,))
    assert found is not None
    assert found[0].parts == ("short ", "")
    assert find_text(text, stocks, (17.86,)) == (text.wording, (700.0,))


def test_two_stocks_that_both_change_the_words_are_not_put_together() -> None:
    stocks = (_stock(18.0, (17.0, 19.0)), _stock(12.0, (11.0, 13.0)))
    text = _text((_change(702.0, 0.0, "a "),), (_change(701.0, 0.0, "b "),))

    assert find_text(text, stocks, (17.5, 11.5)) is None
