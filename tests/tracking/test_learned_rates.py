"""Rates learned from the record."""

from datetime import date, timedelta

import numpy as np
import pytest

from estimator.errors import RangeFaulty
from estimator.tracking.learned_rates import Observation, learned_rate, proposed_rate
from tests.tracking.rows import MONDAY


def record(*pairs):
    return [Observation(MONDAY + timedelta(i), q, a) for i, (q, a) in enumerate(pairs)]


def test_the_mean_is_weighted_by_quantity():
    """30 ton in 3 hr, 10 in 2 and 20 in 1: 6 hr for 60 ton, not the mean of .1, .2 and .05."""
    assert learned_rate(record((30, 3), (10, 2), (20, 1))).mean == pytest.approx(0.1)


def test_a_day_far_from_the_others_is_shown_and_counted():
    days = record((20, 10), (20, 10.5), (20, 9.5), (20, 10.2), (20, 40))
    learned = learned_rate(days)
    assert [one.amount for one in learned.outliers] == [40]
    assert learned.mean == pytest.approx(80.2 / 100)


def test_two_days_are_too_few_to_learn_from():
    with pytest.raises(RangeFaulty, match="2, too few to learn from; give 3 or more"):
        learned_rate(record((1, 1), (1, 2)))


def test_a_day_without_a_quantity_is_refused():
    with pytest.raises(RangeFaulty, match="a quantity is not above zero"):
        learned_rate([*record((1, 1), (1, 2)), Observation(date(2026, 5, 9), 0, 3)])


def test_a_thin_record_is_drawn_toward_the_table_and_a_steady_one_is_not():
    thin = learned_rate(record((10, 3), (10, 9), (10, 6)))
    steady = learned_rate(record(*[(10, 6 + 0.01 * i) for i in range(-6, 7)]))
    far = proposed_rate(thin, 0.9, 0.85, 0.95, "hr/ton")
    near = proposed_rate(steady, 0.9, 0.85, 0.95, "hr/ton")
    assert far.weight < 0.1
    assert far.rate > 0.88
    assert near.weight > 0.99
    assert near.rate == pytest.approx(0.6, abs=0.001)


def test_without_a_range_in_the_table_the_record_is_proposed_as_it_is_and_that_is_said():
    learned = learned_rate(record((10, 5), (10, 6), (10, 7)))
    proposal = proposed_rate(learned, 9.0, None, None, "hr/ton")
    assert proposal.rate == pytest.approx(0.6)
    assert proposal.evidence.endswith(
        "; table 9, which states no range: the record's mean as it is"
    )


def test_the_evidence_says_how_many_how_sure_and_how_much_it_weighs():
    learned = learned_rate(record((20, 9), (20, 10), (20, 11)))
    assert proposed_rate(learned, 0.6, 0.4, 0.8, "hr/ton").evidence == (
        "own record: 3 observations, mean 0.5 hr/ton, 80 % interval 0.4456 to 0.5544; table 0.6, "
        "range 0.4 to 0.8; drawn toward it, the record weighs 97 %"
    )


def test_a_rate_drawn_toward_its_range_is_nearer_to_the_truth_and_as_sure_as_it_claims():
    """3,000 blades of 30 to 80 ft, with seven thin days each.

    80 % of the truths lie within t sqrt(weight) s of what is proposed, give or take 3.
    """
    draw = np.random.default_rng(1906)
    held, raw, drawn = 0, 0.0, 0.0
    for _ in range(3_000):
        life = draw.normal(55, 50 / 2.5632)
        seen = record(
            *((blades, blades * life + draw.normal(0, 40)) for blades in (1, 2, 1, 2, 1, 2, 1))
        )
        learned = learned_rate(seen)
        proposal = proposed_rate(learned, 55.0, 30.0, 80.0, "ft/blade")
        raw += (learned.mean - life) ** 2
        drawn += (proposal.rate - life) ** 2
        reach = (learned.high - learned.mean) * np.sqrt(proposal.weight)
        held += abs(proposal.rate - life) <= reach
    assert held / 3_000 == pytest.approx(0.8, abs=0.03)
    assert drawn < 0.9 * raw


@pytest.mark.parametrize("count", [5, 12, 30])
def test_intervals_hold_the_truth_of_a_simulated_record_as_often_as_they_claim(count):
    """2,000 records of noisy days: the truth of 0.5 hr/ton lies in 80 % of them, give or take 3."""
    draw = np.random.default_rng(1906)
    held = 0
    for _ in range(2_000):
        days = []
        for i in range(count):
            tons = draw.uniform(15, 25)
            days.append(Observation(MONDAY + timedelta(i), tons, 0.5 * tons + draw.normal(0, 1.5)))
        learned = learned_rate(days)
        held += learned.low <= 0.5 <= learned.high
    assert held / 2_000 == pytest.approx(0.8, abs=0.03)


@pytest.mark.parametrize(
    ("last", "outliers"),
    [
        ((50, 50, 50, 51), []),  # 2 % of the middle is no outlier
        ((50, 50, 50, 52), [52]),
        ((45, 47.5, 52.5, 60), []),  # half of the days are within 2.5: 3.5 x 2.5 / 0.6745 = 12.97
        ((45, 47.5, 52.5, 64), [64]),
    ],
)
def test_a_day_is_far_by_how_the_others_spread_and_by_two_percent_at_least(last, outliers):
    days = record((1, 50), *((1, amount) for amount in last))
    assert [one.amount for one in learned_rate(days).outliers] == outliers
