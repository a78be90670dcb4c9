"""Ranges, simulation and dates against a government cost guide, textbooks and scipy."""

import networkx
import numpy as np
import pytest
from scipy import stats

from estimator.ranges.class_bands import estimate_classes
from estimator.ranges.correlation import DEFAULT_CORRELATION, INDEPENDENT, total_sd
from estimator.ranges.distributions import Pert, Triangular, Uniform
from estimator.ranges.events import Event
from estimator.ranges.job_ranges import JobRanges
from estimator.ranges.line_ranges import CostRange
from estimator.ranges.phase_dates import likely_dates, simulated_dates
from estimator.ranges.phase_order import PhaseDuration
from estimator.ranges.simulation import simulated_totals
from tests.published.source import published

GUIDE = "US Government Accountability Office, Cost Estimating and Assessment Guide, GAO-20-195G"
TABLE_12 = "Table 12, seven elements: low, most likely and high"
SCIPY = "scipy, general-purpose library of numerical methods"

ELEMENTS = (
    Triangular(17_955, 19_645, 21_785),
    Triangular(8_500, 10_553, 13_000),
    Triangular(4_000, 4_306, 5_100),
    Triangular(4_100, 4_305, 4_650),
    Triangular(550, 600, 650),
    Triangular(32_300, 35_547, 52_500),
    Triangular(1_950, 2_136, 2_600),
)


def seven_elements(correlation, iterations=100_000):
    """Return the totals of the seven elements, a dollar of the table as 100 cents."""
    lines = tuple(
        CostRange(str(n), one.scaled(100.0), phase=str(n)) for n, one in enumerate(ELEMENTS)
    )
    return simulated_totals(JobRanges(lines, (), correlation, 1906, iterations))


@published(source=GUIDE, section=TABLE_12, status="derived", note="inputs seen, the sum derived")
def test_seven_elements_are_most_likely_77092_in_all():
    assert sum(one.likely for one in ELEMENTS) == 77_092
    assert seven_elements(INDEPENDENT, 100).estimate_cents == 7_709_200


@published(
    source=GUIDE,
    section=TABLE_12,
    status="derived",
    note="inputs seen, closed form derived: the mean lies 6.7 % above the most likely sum",
)
def test_seven_elements_come_to_82244_on_average():
    assert sum(one.mean for one in ELEMENTS) == pytest.approx(82_244.0, abs=0.05)
    for correlation in (INDEPENDENT, DEFAULT_CORRELATION):
        assert seven_elements(correlation).mean_cents == pytest.approx(8_224_400, abs=5)


@published(
    source=GUIDE,
    section=TABLE_12,
    status="derived",
    note="sd 4,599.606 independent, 5,292.703 at 0.3; the copula's costs correlate a hair less",
)
def test_seven_elements_spread_by_4600_alone_and_by_5293_together():
    sds = [np.sqrt(one.variance) for one in ELEMENTS]
    assert total_sd(sds, INDEPENDENT) == pytest.approx(4_599.606, abs=5e-4)
    assert total_sd(sds, DEFAULT_CORRELATION) == pytest.approx(5_292.703, abs=5e-4)
    assert seven_elements(INDEPENDENT).sd_cents == pytest.approx(459_960.6, rel=0.01)
    assert seven_elements(DEFAULT_CORRELATION).sd_cents == pytest.approx(529_270.3, rel=0.01)


@published(
    source=GUIDE,
    section=TABLE_12,
    status="derived",
    note="P80 by an independent simulation, 86,439; ours within 30 of it",
)
def test_seven_elements_stay_within_86439_with_eighty_percent():
    assert seven_elements(INDEPENDENT).percentile_cents(0.8) == pytest.approx(8_643_900, abs=3_000)


@published(
    source=GUIDE,
    section=TABLE_12,
    status="derived",
    note="the P80s of the elements add up to 88,355, 1,900 above the P80 of the total",
)
def test_percentiles_of_seven_elements_do_not_add():
    apart = sum(float(one.quantile(0.8)) for one in ELEMENTS)
    assert apart == pytest.approx(88_355, abs=0.5)
    totals = seven_elements(INDEPENDENT)
    assert sum(totals.phase_percentile_cents(0.8).values()) == pytest.approx(100 * apart, abs=700)
    assert totals.percentile_cents(0.8) < 100 * apart - 150_000


@published(
    source="Malcolm and others, Application of a Technique, Operations Research 7 (1959)",
    section="mean (a + 4m + b) / 6, standard deviation (b - a) / 6",
    status="from memory",
    note="4, 6 and 12 are ours: 6.67 and 1.33; the beta distribution of that mean has 1.43",
)
def test_four_six_and_twelve_come_to_two_thirds_above_six():
    found = Pert(4.0, 6.0, 12.0)
    assert found.mean == pytest.approx(6.67, abs=5e-3)
    assert np.sqrt(found.variance) == pytest.approx(1.4254, abs=5e-5)


def beta_of(pert):
    """Return scipy's distribution of the same PERT."""
    width = pert.high - pert.low
    alpha = 1.0 + 4.0 * (pert.likely - pert.low) / width
    return stats.beta(alpha, 6.0 - alpha, pert.low, width)


def triangle_of(triangle):
    """Return scipy's distribution of the same triangle."""
    width = triangle.high - triangle.low
    return stats.triang((triangle.likely - triangle.low) / width, triangle.low, width)


SHAPES = [0.0, 0.01, 0.137, 0.25, 0.5, 0.62, 0.9, 0.999, 1.0]


@published(source=SCIPY, section="stats: triang, beta, uniform", status="derived")
@pytest.mark.parametrize("shape", SHAPES)
def test_means_and_variances_are_those_of_a_general_purpose_library(shape):
    likely = 90.0 + 40.0 * shape
    for ours, theirs in (
        (Triangular(90.0, likely, 130.0), triangle_of(Triangular(90.0, likely, 130.0))),
        (Pert(90.0, likely, 130.0), beta_of(Pert(90.0, likely, 130.0))),
        (Uniform(90.0, 130.0), stats.uniform(90.0, 40.0)),
    ):
        assert ours.mean == pytest.approx(theirs.mean(), rel=1e-12)
        assert ours.variance == pytest.approx(theirs.var(), rel=1e-11)


TAILS = np.logspace(-9, np.log10(0.5), 4_000)
SHARES = np.concatenate([TAILS, 1.0 - TAILS[::-1]])


@published(source=SCIPY, section="stats: triang.ppf and uniform.ppf", status="derived")
@pytest.mark.parametrize("shape", SHAPES)
def test_triangular_and_uniform_quantiles_are_exact(shape):
    ours = Triangular(0.0, shape, 1.0)
    np.testing.assert_allclose(ours.quantile(SHARES), triangle_of(ours).ppf(SHARES), atol=1e-12)
    np.testing.assert_allclose(Uniform(0.0, 1.0).quantile(SHARES), SHARES, atol=1e-15)


@published(
    source=SCIPY,
    section="stats: beta.ppf",
    status="derived",
    note="a tabulated inverse, more than a hundred times faster, within 10^-6 of the range",
)
@pytest.mark.parametrize("shape", SHAPES)
def test_pert_quantiles_are_right_to_a_millionth_of_the_range(shape):
    ours = Pert(0.0, shape, 1.0)
    assert np.abs(ours.quantile(SHARES) - beta_of(ours).ppf(SHARES)).max() < 1e-6


@published(
    source=SCIPY,
    section="stats: kstest",
    status="derived",
    note="a Latin sample of n lies within 1/n of its distribution; a plain one within 1.4/sqrt(n)",
)
@pytest.mark.parametrize("together", [INDEPENDENT, DEFAULT_CORRELATION])
def test_samples_follow_their_distribution_closer_than_chance_would(together):
    costs = (Triangular(8e7, 1e8, 1.5e8), Pert(8e7, 1e8, 1.5e8), Uniform(8e7, 1.5e8))
    lines = tuple(CostRange(str(n), one) for n, one in enumerate(costs))
    job = JobRanges(lines, (), together, 1906, 5_000)
    ranks = job.ranks()
    theirs = (triangle_of(costs[0]), beta_of(costs[1]), stats.uniform(8e7, 7e7))
    for number, distribution in enumerate(theirs):
        found = stats.kstest(job.costs(number, ranks), distribution.cdf)
        assert found.statistic <= 1.001 / 5_000


@published(
    source="McKay, Beckman, Conover, A Comparison of Three Methods, Technometrics 21 (1979)",
    section="a sum: the variance of its mean under Latin sampling",
    status="derived",
    note="plain sampling spreads the mean by sd / sqrt(n)",
)
@pytest.mark.parametrize("together", [INDEPENDENT, DEFAULT_CORRELATION])
def test_the_mean_hardly_depends_on_the_seed(together):
    lines = tuple(CostRange(str(n), one.scaled(100.0)) for n, one in enumerate(ELEMENTS))
    runs = [simulated_totals(JobRanges(lines, (), together, seed, 1_000)) for seed in range(30)]
    by_seed = np.std([run.mean_cents for run in runs], ddof=1)
    plain = runs[0].sd_cents / np.sqrt(1_000)
    assert by_seed < plain / 100


@published(
    source="K. Pearson, On further methods of determining correlation (1907)",
    section="rank correlation of normal scores = 6 / pi x arcsin(coefficient / 2)",
    status="from memory",
    note="0.3 between normal scores is 0.2876 between ranks",
)
def test_lines_correlate_by_rank_as_normal_scores_do():
    lines = tuple(CostRange(str(n), Uniform(0, 1e8)) for n in range(2))
    job = JobRanges(lines, (), DEFAULT_CORRELATION, 1906, 200_000)
    ranks = job.ranks()
    found = stats.spearmanr(job.costs(0, ranks), job.costs(1, ranks)).statistic
    assert found == pytest.approx(0.2876, abs=0.006)


@published(
    source="J. O. Irwin; P. Hall, distribution of the sum of uniform variables (1927)",
    section="three uniforms: a sum below 1 has 1/6, below 1.5 one half",
    status="from memory",
)
def test_three_even_costs_stay_below_a_third_of_their_most_one_time_in_six():
    lines = tuple(CostRange(str(n), Uniform(0, 1e6)) for n in range(3))
    totals = simulated_totals(JobRanges(lines, (), INDEPENDENT, 1906, 200_000))
    assert totals.probability_within(1_000_000) == pytest.approx(1 / 6, abs=0.003)
    assert totals.probability_within(1_500_000) == pytest.approx(1 / 2, abs=0.003)
    assert totals.percentile_cents(5 / 6) == pytest.approx(2_000_000, abs=8_000)


@published(
    source="Binomial distribution",
    section="ten surprises of one in ten: none 0.3487, two at most 0.9298",
    status="derived",
)
def test_ten_surprises_of_one_in_ten_come_as_the_binomial_says():
    events = tuple(Event(str(n), 0.1, Uniform(1e6, 1e6)) for n in range(10))
    totals = simulated_totals(JobRanges((), events, INDEPENDENT, 1906, 100_000))
    assert totals.probability_within(0) == pytest.approx(0.3487, abs=0.005)
    assert totals.probability_within(2_000_000) == pytest.approx(0.9298, abs=0.003)
    assert totals.mean_cents == 1_000_000


@published(
    source="US Department of Energy, DOE G 413.3-21, Cost Estimating Guide (2011)",
    section="its reprint of the matrix of estimate classes (page not recorded)",
    status="second-hand",
    note="the bands of accuracy were read in a copy of the matrix in a public project plan, the "
    "guide's own page was not; that copy has 70 % where classes 2 and 1 have 75 and 65 here (from "
    "memory)",
)
def test_estimate_classes_have_the_bands_of_the_matrix():
    known = [(100 * one.known_from, 100 * one.known_to) for one in estimate_classes()]
    assert known == [(0, 2), (1, 15), (10, 40), (30, 75), (65, 100)]
    outer = [(one.below[1], one.above[1]) for one in estimate_classes()]
    assert outer == [(0.5, 1.0), (0.3, 0.5), (0.2, 0.3), (0.15, 0.2), (0.1, 0.15)]


@published(
    source="networkx, general-purpose library of graphs",
    section="dag_longest_path_length and dag_longest_path",
    status="derived",
    note="sixty networks of forty phases with durations of quarter days",
)
def test_likely_finish_and_critical_phases_are_those_of_the_longest_path():
    chance = np.random.default_rng(1906)
    for _ in range(60):
        phases = random_network(chance)
        graph = networkx.DiGraph()
        for phase in phases:
            graph.add_edge(phase.code, "end", weight=phase.days.likely)
            for before in phase.after:
                graph.add_edge(before, phase.code, weight=phases[int(before)].days.likely)
        found = likely_dates(phases)
        assert found.finish_days == networkx.dag_longest_path_length(graph)
        assert set(networkx.dag_longest_path(graph)[:-1]) <= set(found.critical)


def random_network(chance):
    """Return forty phases, each after a few of the earlier ones."""
    return [
        PhaseDuration(
            str(number),
            Uniform(*[int(chance.integers(0, 80)) / 4] * 2),
            tuple(str(before) for before in chance.integers(0, number, size=min(number, 2))),
        )
        for number in range(40)
    ]


@published(
    source="Order statistics of uniform variables",
    section="the later of two is sqrt(u): mean 2/3, median 0.7071",
    status="derived",
    note="why a job is later than its likely durations where phases run side by side",
)
def test_the_later_of_two_phases_is_late_more_often_than_not():
    phases = [PhaseDuration(code, Uniform(0.0, 1.0)) for code in ("east wall", "west wall")]
    found = simulated_dates(phases, correlation=INDEPENDENT, iterations=100_000)
    assert found.likely.finish_days == 0.5
    assert found.finish_days.mean() == pytest.approx(2 / 3, abs=2e-3)
    assert found.percentile_days(0.5) == pytest.approx(np.sqrt(0.5), abs=4e-3)
    assert found.criticality["east wall"] == pytest.approx(0.5, abs=5e-3)
