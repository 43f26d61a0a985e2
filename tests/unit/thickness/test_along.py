"""Along one thickness: pieces in which words stay and sizes are straight, and where they end."""

import itertools

import pytest

from generator.pages.followed import split_text
from generator.thickness.along import Along, find_pieces, list_points
from generator.thickness.sampling import Refusal, Sample
from generator.units import carrying, format_size

POINTS = list_points(18.0, 17.1, 18.7)
METRIC = carrying("metric")


def _text(size_mm: float, words: str = "saw at") -> Sample:
    return Sample((f"{words} {format_size(size_mm, METRIC)}",))


def _look(size: object, check: object = None) -> Along:
    assert callable(size)

    def sample(at: float) -> Sample | Refusal:
        found = size(at)
        if isinstance(found, (Sample, Refusal)):
            return found
        assert isinstance(found, float)
        return _text(found)

    def forbidden(at: float) -> Refusal | None:
        return check(at) if callable(check) else None

    return find_pieces(POINTS, 18.0, sample, forbidden)


def _pieces(found: Along) -> list[tuple[float, float]]:
    return [(found.points_mm[first], found.points_mm[last]) for first, last in found.pieces]


def test_points_stand_a_tenth_apart_with_the_plan_and_both_ends_among_them() -> None:
    points = list_points(18.25625, 17.4625, 19.05)

    assert points[0] == 17.4625
    assert points[-1] == 19.05
    assert 18.25625 in points
    assert max(b - a for a, b in itertools.pairwise(points)) < 0.13


def test_a_straight_size_is_one_piece_and_takes_few_samples() -> None:
    seen: list[float] = []

    def size(at: float) -> float:
        seen.append(at)
        return 760.0 - 2 * at

    assert _pieces(_look(size)) == [(17.1, 18.7)]
    assert len(set(seen)) <= 5


@pytest.mark.parametrize("kink", [17.3, 17.64, 18.0, 18.55])
def test_a_kink_parts_two_pieces_within_a_step(kink: float) -> None:
    pieces = _pieces(_look(lambda at: max(kink, at) * 2))

    assert pieces[0][0] == 17.1
    assert pieces[-1][1] == 18.7
    assert any(low - 0.05 <= kink <= high + 0.05 for low, high in pieces)
    assert len(pieces) <= 3
    for low, high in pieces:
        middle = (low + high) / 2
        chord = (max(kink, low) + max(kink, high)) / 2
        assert abs(max(kink, middle) - chord) * 2 <= 0.1


def test_another_wording_leaves_a_gap_of_one_step() -> None:
    found = _look(lambda at: _text(at, "32 mm screw") if at > 17.75 else _text(at, "30 mm screw"))

    assert _pieces(found) == [(17.1, 17.7), (17.8, 18.7)]
    assert (found.below, found.above) == ("", "")


def test_the_range_ends_where_the_plan_does_with_the_reason() -> None:
    found = _look(lambda at: Refusal("the screw comes out") if at > 18.42 else 700.0 - at)

    assert _pieces(found) == [(17.1, 18.4)]
    assert (found.below, found.above) == ("", "the screw comes out")


def test_what_the_checks_forbid_ends_the_range_too() -> None:
    found = _look(lambda at: 700.0 - at, lambda at: Refusal("it tips") if at < 17.45 else None)

    assert _pieces(found) == [(17.5, 18.7)]
    assert found.below == "it tips"


def test_a_fault_between_sound_ends_ends_the_range_before_it() -> None:
    found = _look(lambda at: Refusal("they meet") if 18.33 < at < 18.44 else max(at, 18.2) * 2)

    assert found.points_mm[found.pieces[-1][1]] <= 18.31
    assert found.above == "they meet"


def test_a_plan_that_stands_at_its_own_thickness_alone_has_one_place() -> None:
    found = _look(lambda at: 700.0 if at == 18.0 else Refusal("no"))

    assert _pieces(found) == [(18.0, 18.0)]


def test_carried_values_come_back_out_of_a_text() -> None:
    assert split_text(_text(348.7612).texts[0]) == (("saw at ", ""), "s", (348.761,))
