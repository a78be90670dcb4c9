import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.ranges.correlation import DEFAULT_CORRELATION, INDEPENDENT, ByGroups
from estimator.ranges.cost_drivers import SHARE_MEASURE, drivers
from estimator.ranges.distributions import Uniform
from estimator.ranges.job_ranges import JobRanges
from estimator.ranges.line_ranges import CostRange, LineRange
from estimator.ranges.simulation import simulated_totals
from tests.ranges.jobs import alike, job


@settings(max_examples=20)
@given(
    st.integers(0, 1_000),
    st.sampled_from([INDEPENDENT, DEFAULT_CORRELATION, ByGroups(0.1, {"labor": 0.9})]),
)
def test_shares_add_up_to_one(seed, correlation):
    found = drivers(simulated_totals(job(500, seed, correlation)))
    assert sum(one.share for one in found) == pytest.approx(1.0, abs=1e-12)


def test_drivers_stand_in_falling_order_and_leave_out_what_is_certain():
    found = drivers(simulated_totals(job()))
    assert [one.share for one in found] == sorted((one.share for one in found), reverse=True)
    assert {one.name for one in found} == {
        "stone", "crew on stone", "crew on footing", "old boards", "old cistern",
    }  # fmt: skip


def test_a_driver_tells_its_estimate_its_mean_and_its_spread():
    by_name = {one.name: one for one in drivers(simulated_totals(job()))}
    stone, cistern = by_name["stone"], by_name["old cistern"]
    assert (stone.kind, stone.phase, stone.estimate_cents) == ("material", "20", 900_000)
    assert stone.mean_cents == pytest.approx(1_033_333, abs=200)
    assert stone.sd_cents == pytest.approx(131_233, rel=1e-3)
    assert (cistern.kind, cistern.estimate_cents) == ("event", 0)


def test_independent_shares_are_those_of_variance():
    # Uniform widths 1, 2, 3: variances 1, 4, 9 of 14.
    lines = tuple(CostRange(str(width), Uniform(0, width * 1e6)) for width in (1, 2, 3))
    ranges = JobRanges(lines, correlation=INDEPENDENT, iterations=20_000)
    found = drivers(simulated_totals(ranges))
    assert [one.name for one in found] == ["3", "2", "1"]
    assert [one.share for one in found] == pytest.approx([9 / 14, 4 / 14, 1 / 14], abs=0.02)


def test_lines_that_move_together_share_by_their_spread():
    lines = tuple(CostRange(str(width), Uniform(0, width * 1e6)) for width in (1, 2, 3))
    found = drivers(simulated_totals(JobRanges(lines, correlation=ByGroups(1.0))))
    assert [one.share for one in found] == pytest.approx([3 / 6, 2 / 6, 1 / 6], abs=1e-3)


def test_lines_are_drawn_again_to_the_same_costs():
    totals = simulated_totals(alike(20))
    by_hand = np.array([totals.job.costs(n, totals.job.ranks()) for n in range(20)])
    assert (by_hand.sum(axis=0) == totals.total_cents).all()


def test_nothing_drives_a_job_that_is_certain():
    assert drivers(simulated_totals(JobRanges((LineRange("permit", 500),)))) == ()


def test_progress_is_reported_up_to_the_whole():
    told = []
    drivers(simulated_totals(alike(4)), progress=told.append)
    assert told == [0.25, 0.5, 0.75, 1.0]


def test_the_report_can_say_what_a_share_is():
    assert "add up to 1" in SHARE_MEASURE
