"""Contingency, its split, what drives it, and what time costs, against scipy and a cost course."""

import numpy as np
import pytest
from scipy import stats

from estimator.ranges.contingency_needed import contingency
from estimator.ranges.correlation import INDEPENDENT
from estimator.ranges.cost_drivers import drivers
from estimator.ranges.distributions import Uniform
from estimator.ranges.job_ranges import JobRanges
from estimator.ranges.line_ranges import CostRange
from estimator.ranges.phase_dates import simulated_dates
from estimator.ranges.phase_order import PhaseDuration
from estimator.ranges.simulation import simulated_totals
from estimator.ranges.time_costs import TimeCost, with_time_costs
from tests.published.source import published
from tests.published.test_ranges import ELEMENTS, GUIDE, TABLE_12, seven_elements

COST_COURSE = "Engineering cost estimates, indirect costs and profit, examples (ce.arizval.com)"


def triangles():
    """Return the seven elements as scipy has them."""
    return [
        stats.triang((one.likely - one.low) / (one.high - one.low), one.low, one.high - one.low)
        for one in ELEMENTS
    ]


@published(
    source=GUIDE,
    section=TABLE_12,
    status="derived",
    note="P80 86,439 by an independent simulation, less the most likely 77,092; shared by what "
    "each element needs by itself, P80 of scipy's triangular distribution less its likely value",
)
def test_seven_elements_need_9347_to_be_eighty_percent_sure_and_share_it_by_their_own_need():
    needed = contingency(seven_elements(INDEPENDENT), 0.8)
    assert needed.amount_cents / 100 == pytest.approx(9_347, abs=30)
    assert sum(needed.by_phase.values()) == needed.amount_cents
    alone = [
        triangle.ppf(0.8) - one.likely for triangle, one in zip(triangles(), ELEMENTS, strict=True)
    ]
    shares = np.array(list(needed.by_phase.values())) / needed.amount_cents
    assert shares == pytest.approx(np.array(alone) / sum(alone), abs=2e-3)


@published(
    source=GUIDE,
    section=TABLE_12,
    status="derived",
    note="among independent elements the share is variance over the sum of variances, by "
    "scipy.stats.triang: the sixth element carries 88 %",
)
def test_one_of_seven_elements_carries_nearly_all_of_the_spread():
    variances = [triangle.var() for triangle in triangles()]
    found = {one.name: one.share for one in drivers(seven_elements(INDEPENDENT))}
    for number, variance in enumerate(variances):
        assert found[str(number)] == pytest.approx(variance / sum(variances), abs=0.01)
    assert max(found, key=found.__getitem__) == "5"


@published(
    source=COST_COURSE,
    section="example 1, general conditions from a schedule: 22,500 a month for 8, a crane at 8,000 "
    "for 4, a permit of 15,000",
    status="derived",
    note="the inputs were read; a month stands here for a day: 180,000 + 32,000 + 15,000",
)
def test_eight_months_of_a_site_with_a_crane_for_four_cost_227_000():
    permit = CostRange("permit", Uniform(15_000_00, 15_000_00), phase="")
    totals = simulated_totals(JobRanges([permit], iterations=100))
    phases = [
        PhaseDuration("crane", Uniform(4.0, 4.0)),
        PhaseDuration("rest", Uniform(4.0, 4.0), ("crane",)),
    ]
    dates = simulated_dates(phases, iterations=100)
    costs = TimeCost("site", 22_500_00), TimeCost("crane", 8_000_00, phase="crane")
    assert with_time_costs(totals, dates, costs).estimate_cents == 227_000_00
