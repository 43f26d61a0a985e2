"""The benchmarks of the site measure what they say, and say what they do not measure."""

from pathlib import Path

import pytest

from tests.benchmarks.lighthouse import (
    AIMS,
    format_table,
    main,
    median_of,
    reaches_aims,
    read_scores,
)
from tests.benchmarks.site import PlanTiming, SiteTiming
from tests.benchmarks.site import format_table as format_ratios


def test_without_lighthouse_that_is_said_and_nothing_is_measured(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status = main(["--program", str(tmp_path / "none")])

    assert status == 2
    assert "nothing was measured" in capsys.readouterr().out


def test_scores_are_read_out_of_100_and_held_against_the_aims() -> None:
    report = {"categories": {name: {"score": aim / 100} for name, aim in AIMS.items()}}
    scores = read_scores(report)
    table = format_table({"index.html": scores}).splitlines()

    assert scores == AIMS
    assert reaches_aims(scores)
    assert not reaches_aims({**scores, "seo": 99})
    assert table[1].split() == ["index.html", "90", "100", "100", "100"]


def test_of_a_few_runs_the_median_of_every_score_is_taken() -> None:
    runs = [{**AIMS, "performance": performance} for performance in (71, 99, 95)]

    assert median_of(runs) == {**AIMS, "performance": 95}
    assert median_of(runs[:2]) == {**AIMS, "performance": 71}


def test_ratios_are_of_the_pages_of_one_plan_of_mkdocs_on_it_alone_and_on_all() -> None:
    alone_s = {"shelf": 0.75, **{f"other {number}": 0.7 for number in range(9)}}
    site = SiteTiming(mkdocs_s=1.6, start_s=0.6, site_s=2.0, alone_s=alone_s)
    plan = PlanTiming(slug="shelf", drawings=20, draw_s=0.1, write_s=0.05)
    rows = format_ratios([plan], site).splitlines()

    assert site.plan_pages_s == pytest.approx(0.1)
    assert rows[1].split()[-3:] == ["0.50", "1.50", "0.20"]
    assert rows[-1] == "the site: 2.00 s, 1.25 times mkdocs alone"
