"""The benchmark of the drawings measures what it says it measures."""

from generator.outputs.plan_files import draw_pictures
from generator.outputs.svg import write_svg
from tests.benchmarks.drawing import Drawn, draw, format_table
from tests.samples import sample_plan


def test_all_drawings_of_a_plan_are_counted_and_timed() -> None:
    plan = sample_plan("metric")
    scenes = draw_pictures(plan)[1].values()
    drawn = draw("sample", plan)

    assert len(scenes) == drawn.pictures
    assert max(len(write_svg(scene).encode()) for scene in scenes) == drawn.largest_bytes
    assert 0 < drawn.seconds < 60


def test_the_table_ends_with_the_ratio_of_the_sums() -> None:
    rows = [
        Drawn(name="one", pictures=9, largest_bytes=8000, seconds=1.0),
        Drawn(name="two", pictures=3, largest_bytes=9000, seconds=0.5),
    ]
    _, first, _, total, mkdocs, ratio = format_table(rows, 6.0).splitlines()

    assert first.split() == ["one", "9", "8000", "1.00"]
    assert total.split() == ["all", "drawings", "12", "1.50"]
    assert mkdocs.split()[-1] == "6.00"
    assert ratio.split()[-1] == "0.25"
