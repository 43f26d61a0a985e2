"""The benchmark of cutting lays the jobs it says it lays."""

import pytest

from tests.benchmarks.cutting import (
    PIECES,
    Job,
    draws,
    format_growth,
    format_proofs,
    lay,
    make_job,
    make_larger,
)


@pytest.mark.parametrize("pieces", PIECES)
def test_a_larger_job_has_just_the_pieces_of_its_row(pieces: int) -> None:
    assert pieces == sum(line.count for line in make_larger(pieces, 3))


def test_the_jobs_of_the_first_table_have_at_least_five_pieces_and_differ() -> None:
    jobs = [make_job(draw) for draw in draws(20)]

    assert all(5 <= sum(line.count for line in job) for job in jobs)
    assert len(jobs) == len({tuple(job) for job in jobs})


def test_a_job_is_laid_with_all_its_pieces_and_no_sheet_below_its_bound() -> None:
    job = lay(make_larger(10, 0))

    assert 10 == job.pieces
    assert 1 <= job.bound <= job.sheets
    assert (job.bound == job.sheets) == job.proved_least


def test_the_tables_count_what_is_proved_and_put_each_time_beside_the_one_before() -> None:
    jobs = [
        Job(pieces=10, sheets=2, bound=2, proved_least=True, seconds=0.5),
        Job(pieces=20, sheets=4, bound=3, proved_least=False, seconds=1.5),
    ]

    assert "1 of 2 jobs of 10 to 20 pieces proved least, 1 off by 1" in format_proofs(jobs)
    assert ["20", "1", "4", "3", "1.500", "1.500", "3.0"] == (
        format_growth([jobs[:1], jobs[1:]]).splitlines()[-1].split()
    )
