"""Named items move together by a matrix, all other lines by one coefficient."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimator.errors import CorrelationFaulty
from estimator.ranges.distributions import Triangular
from estimator.ranges.item_correlation import ByItems
from estimator.ranges.job_ranges import JobRanges
from estimator.ranges.latin_hypercube import LINE_SCORES
from estimator.ranges.line_ranges import LineRange
from estimator.ranges.scores import ranks_of
from estimator.ranges.simulation import simulated_totals

ITEMS = ("20.010", "30.010", "40.010")
MATRIX = ((1.0, 0.7, -0.1), (0.7, 1.0, 0.3), (-0.1, 0.3, 1.0))
ITERATIONS = 4_000


def places(correlation, codes, stream=LINE_SCORES):
    """Return the rank of each line in each iteration."""
    ranks = ranks_of(correlation, codes, 7, ITERATIONS, stream)
    rows = np.empty((len(codes), ITERATIONS))
    for line, row in enumerate(rows):
        row[ranks.order(line)] = np.arange(ITERATIONS)
    return rows


def test_named_items_move_together_by_the_matrix_and_all_others_by_the_one_between():
    """The coefficient of ranks is 6/pi arcsin(r/2) for r of normal scores."""
    seen = np.corrcoef(places(ByItems(0.2, ITEMS, MATRIX), [*ITEMS, "50.010", "60.010"]))
    stated = np.full((5, 5), 0.2)
    stated[:3, :3] = MATRIX
    np.fill_diagonal(stated, 1.0)
    assert seen == pytest.approx(6 / np.pi * np.arcsin(stated / 2), abs=0.03)


def test_an_item_that_costs_more_takes_longer():
    """Costs and lengths share the factors of the named items, not those of the others."""
    correlation = ByItems(0.2, ITEMS, MATRIX)
    codes = [*ITEMS, "50.010"]
    costs, lengths = places(correlation, codes), places(correlation, codes, LINE_SCORES + 1)
    assert (costs[:3] == lengths[:3]).all()
    assert np.corrcoef(costs[3], lengths[3])[0, 1] == pytest.approx(0.19, abs=0.03)


def test_the_spread_of_a_total_follows_the_matrix():
    """Two equal triangles of sd s: s sqrt(2 + 2 r)."""

    def sd(r):
        correlation = ByItems(0.0, ITEMS[:2], ((1.0, r), (r, 1.0)))
        lines = tuple(
            LineRange(code, 1_000_000, rate=Triangular(0.7, 1.0, 1.3), item=code)
            for code in ITEMS[:2]
        )
        return simulated_totals(
            JobRanges(lines, correlation=correlation, iterations=4_000)
        ).sd_cents

    alone = 1_000_000 * (0.6**2 / 18 - 0.3 * 0.3 / 18) ** 0.5
    for r, both in ((0.0, 2.0), (0.8, 3.6), (-0.8, 0.4), (1.0, 4.0), (-1.0, 0.0)):
        assert sd(r) == pytest.approx(alone * both**0.5, rel=0.03, abs=2_000)


@settings(max_examples=30)
@given(st.lists(st.floats(-1.0, 1.0), min_size=3, max_size=3), st.floats(0.0, 1.0))
def test_what_is_refused_can_be_once_its_remedy_is_taken(above, between):
    a, b, c = above
    matrix = np.array(((1.0, a, b), (a, 1.0, c), (b, c, 1.0)))
    try:
        ByItems(between, ITEMS, matrix)
    except CorrelationFaulty as refusal:
        said = refusal.faults[0].remedy
        percent = int("".join(one for one in said if one.isdigit())) / 100
        if "off the diagonal" in said:
            ByItems(0.0, ITEMS, np.eye(3) + percent * (matrix - np.eye(3)))
        else:
            ByItems(percent, ITEMS, matrix)
    else:
        assume(False)


def test_a_matrix_on_the_edge_of_the_possible_is_taken():
    edge = ByItems(0.3, ITEMS[:2], ((1.0, 1.0), (1.0, 1.0)))
    one, other = places(edge, ITEMS[:2])
    assert np.corrcoef(one, other)[0, 1] == pytest.approx(1.0, abs=1e-6)


def test_a_matrix_that_no_items_can_have_is_refused_with_how_much_less_could_be():
    """Eigenvalues of 0.9, -0.9 and 0.9 are 1.9, 1.9 and -0.8: 1 / 1.8 of them is the most."""
    matrix = ((1.0, 0.9, -0.9), (0.9, 1.0, 0.9), (-0.9, 0.9, 1.0))
    with pytest.raises(CorrelationFaulty, match="take 55 % of each coefficient off the diagonal"):
        ByItems(0.0, ITEMS, matrix)


def test_the_report_says_which_matrix_was_used():
    assert ByItems(0.2, ITEMS, MATRIX).statement == (
        "3 items move together by the matrix that the scope states, any two other lines by 0.2."
    )
