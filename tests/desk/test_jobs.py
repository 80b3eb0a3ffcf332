# SPDX-License-Identifier: BSD-3-Clause
"""A job tells how far it is, ends when asked to, and keeps what it found."""

import threading

import pytest

from ringwright.desk.jobs import Job, JobCancelledError, Progress

SOON = 60.0  # seconds; a bound against hanging, not a wait


def test_a_job_reports_and_returns():
    def work(job: Job[int]) -> int:
        for step in range(1, 4):
            job.report(Progress(step, 3, "counting"), step * 10)
        return 6

    job = Job(work).start()
    assert job.result(SOON) == 6
    assert job.progress == Progress(3, 3, "counting")
    assert job.findings == (10, 20, 30)
    assert job.is_done


def test_a_cancelled_job_ends_at_its_next_report_and_keeps_its_findings():
    under_way, go_on = threading.Event(), threading.Event()

    def work(job: Job[None]) -> None:
        job.report(Progress(1, None, "searching"), "first")
        under_way.set()
        assert go_on.wait(SOON)
        job.report(Progress(2, None, "searching"), "second")
        raise AssertionError("must not come this far")

    job = Job(work).start()
    assert under_way.wait(SOON)
    assert not job.is_done
    job.cancel()
    go_on.set()
    with pytest.raises(JobCancelledError):
        job.result(SOON)
    assert job.findings == ("first", "second")


def test_a_jobs_error_comes_to_whoever_asks_for_the_result():
    def work(_: Job[None]) -> None:
        raise ValueError("no such ring")

    job = Job(work).start()
    with pytest.raises(ValueError, match="no such ring"):
        job.result(SOON)
    assert job.is_done
