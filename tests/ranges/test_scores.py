import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import CorrelationFaulty
from estimator.ranges.correlation import INDEPENDENT, ByGroups, ByMatrix
from estimator.ranges.latin_hypercube import LINE_SCORES
from estimator.ranges.scores import ranks_of, rising_order

ITERATIONS = 20_000
ROOT = Path(__file__).parents[2]


def ranks_by_line(correlation, groups, seed=7):
    """Return the rank that each line has in each iteration."""
    ranks = ranks_of(correlation, groups, seed, ITERATIONS, LINE_SCORES)
    orders = [ranks.order(line) for line in range(len(groups))]
    assert all(np.bincount(order, minlength=ITERATIONS).max() == 1 for order in orders)
    return np.array([np.argsort(order) for order in orders])


def of_normal_scores(rank_correlation):
    """Return the coefficient of normal scores from that of their ranks (Pearson, 1907)."""
    return 2.0 * np.sin(np.pi * rank_correlation / 6.0)


def test_groups_move_together_as_asked():
    correlation = ByGroups(0.2, {"labor": 0.7, "haul": 1.0})
    ranks = ranks_by_line(correlation, ["labor", "labor", "haul", "haul", "stone", "stone"])
    found = of_normal_scores(np.corrcoef(ranks))
    expected = np.full((6, 6), 0.2)
    expected[:2, :2], expected[2:4, 2:4] = 0.7, 1.0
    np.fill_diagonal(expected, 1.0)
    np.testing.assert_allclose(found, expected, atol=0.02)


def test_a_matrix_moves_lines_together_as_asked():
    expected = np.array([[1.0, 0.8, -0.5], [0.8, 1.0, -0.3], [-0.5, -0.3, 1.0]])
    found = of_normal_scores(np.corrcoef(ranks_by_line(ByMatrix(expected), ["a"] * 3)))
    np.testing.assert_allclose(found, expected, atol=0.02)


def test_a_matrix_of_equal_coefficients_moves_lines_as_one_group_does():
    matrix = np.full((100, 100), 0.3) + 0.7 * np.eye(100)
    for correlation in (ByMatrix(matrix), ByGroups(0.3)):
        found = of_normal_scores(np.corrcoef(ranks_by_line(correlation, ["a"] * 100)))
        assert found[np.triu_indices(100, 1)].mean() == pytest.approx(0.3, abs=0.01)


def test_independent_lines_need_no_order():
    for correlation in (INDEPENDENT, ByMatrix(np.eye(3))):
        assert ranks_of(correlation, ["a"] * 3, 7, 100, LINE_SCORES).order(2) is None


def test_rows_of_a_matrix_may_be_requested_in_any_order():
    matrix = ByMatrix(np.full((150, 150), 0.3) + 0.7 * np.eye(150))
    there = ranks_of(matrix, ["a"] * 150, 7, 500, LINE_SCORES)
    back = ranks_of(matrix, ["a"] * 150, 7, 500, LINE_SCORES)
    forth = [there.order(line).tolist() for line in range(150)]
    assert [back.order(line).tolist() for line in reversed(range(150))] == forth[::-1]


BY_MATRIX = """
import hashlib, sys
import numpy as np
from estimator.ranges.correlation import ByMatrix
from estimator.ranges.simulation import simulated_totals
from tests.ranges.jobs import alike
matrix = ByMatrix(np.full((300, 300), 0.3) + 0.7 * np.eye(300))
totals = simulated_totals(alike(300, 3_000, correlation=matrix))
sys.stdout.write(hashlib.sha256(totals.phase_totals.tobytes()).hexdigest())
"""


def test_the_number_of_threads_changes_no_byte_of_a_matrix_product():
    found = {
        subprocess.run(
            [sys.executable, "-c", BY_MATRIX],
            cwd=ROOT,
            env=os.environ | {"OPENBLAS_NUM_THREADS": threads, "OMP_NUM_THREADS": threads},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for threads in ("1", "2", "3")
    }
    assert len(found) == 1


def test_a_matrix_that_does_not_fit_the_lines_is_refused():
    with pytest.raises(CorrelationFaulty, match="a matrix of 2 does not fit 3 lines"):
        ranks_of(ByMatrix([[1, 0.4], [0.4, 1]]), ["a"] * 3, 7, 1_000, LINE_SCORES)


def test_a_matrix_of_too_many_scores_is_refused_before_it_fills_the_memory():
    matrix = ByMatrix(np.full((300, 300), 0.3) + 0.7 * np.eye(300))
    with pytest.raises(CorrelationFaulty, match="300 lines by 200,000 iterations are too many"):
        ranks_of(matrix, ["a"] * 300, 7, 200_000, LINE_SCORES)


@given(st.lists(st.floats(-50, 50), min_size=1, max_size=300, unique_by=lambda x: round(x, 6)))
def test_the_rising_order_is_that_of_a_stable_sort(scores):
    found = rising_order(np.array(scores))
    assert found.tolist() == np.argsort(scores, kind="stable").tolist()


def test_equal_scores_keep_their_order():
    assert rising_order(np.zeros(5)).tolist() == [0, 1, 2, 3, 4]
