import math
import pickle

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import CorrelationFaulty
from estimator.ranges.correlation import (
    DEFAULT_CORRELATION,
    INDEPENDENT,
    ByGroups,
    ByMatrix,
    total_sd,
)

coefficients = st.floats(0.0, 1.0)
spreads = st.lists(st.floats(0.0, 1e6), min_size=1, max_size=12)


def as_matrix(correlation, groups):
    """Return the matrix that groups stand for, pair by pair."""
    return np.array(
        [
            [1.0 if i == j else correlation.coefficient(a, b) for j, b in enumerate(groups)]
            for i, a in enumerate(groups)
        ]
    )


@st.composite
def by_groups(draw):
    between = draw(coefficients)
    names = draw(st.lists(st.sampled_from("abc"), unique=True))
    return ByGroups(between, {name: max(between, draw(coefficients)) for name in names})


@given(by_groups(), st.lists(st.sampled_from("abcd"), min_size=1, max_size=12))
def test_groups_are_always_possible_and_equal_their_matrix(correlation, groups):
    matrix = as_matrix(correlation, groups)
    assert np.linalg.eigvalsh(matrix)[0] >= -1e-9
    sds = np.arange(1.0, len(groups) + 1)
    expected = math.sqrt(max(0.0, sds @ matrix @ sds))
    assert total_sd(sds, correlation, groups) == pytest.approx(expected)
    assert total_sd(sds, ByMatrix(matrix)) == pytest.approx(expected)


@given(spreads, coefficients, coefficients)
def test_more_correlation_never_narrows_a_total(sds, one, other):
    less, more = sorted((one, other))
    narrow, wide = total_sd(sds, ByGroups(less)), total_sd(sds, ByGroups(more))
    assert narrow <= wide * (1 + 1e-12) + 1e-12


@given(spreads)
def test_independent_variances_add_up_and_moved_together_the_spreads_do(sds):
    assert total_sd(sds, INDEPENDENT) == pytest.approx(math.hypot(*sds))
    assert total_sd(sds, ByGroups(1.0)) == pytest.approx(sum(sds))


def test_half_a_percent_of_spread_becomes_six_and_a_half():
    sds = [0.12 / 580] * 580
    assert total_sd(sds, INDEPENDENT) == pytest.approx(0.00498, abs=5e-6)
    assert total_sd(sds, DEFAULT_CORRELATION) == pytest.approx(0.0659, abs=5e-5)


def test_the_report_says_which_correlation_was_used():
    assert DEFAULT_CORRELATION.statement == "Any two lines move together by 0.3 (the default)."
    assert ByGroups(0.2, {"labor": 0.6}).statement == (
        "Any two lines move together by 0.2, two lines of labor by 0.6."
    )
    assert INDEPENDENT.statement.endswith("the total looks surer than it is.")
    assert ByMatrix([[1, 0.4], [0.4, 1]]).statement == (
        "Lines move together by a given matrix; two of them by 0.40 on average."
    )


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: ByGroups(1.2), "between all: 1.2 is not between 0 and 1; write it as 0.3"),
        (lambda: ByGroups(-0.1), "between all: -0.1 is not between 0 and 1"),
        (lambda: ByGroups(math.nan), "between all: 'nan' is not a plain number"),
        (lambda: ByGroups(0.3, {"labor": "much"}), "within 'labor': 'much' is not a plain number"),
        (
            lambda: ByGroups(0.3, {"labor": 0.1}),
            "within 'labor': 0.1 is below the 0.3 between all lines; lower the one between all, "
            "or give a matrix",
        ),
        (lambda: ByMatrix([[1, 0.5]]), "has the shape 1 x 2; give as many rows as columns"),
        (lambda: ByMatrix([]), "has the shape 0"),
        (lambda: ByMatrix("much"), "is not a table of numbers"),
        (lambda: ByMatrix([[1, 2], [1]]), "is not a table of numbers"),
        (lambda: ByMatrix([[1, math.nan], [0, 1]]), "row 1, column 2 is not a finite number"),
        (lambda: ByMatrix([[1, 1.5], [1.5, 1]]), "row 1, column 2 is not between -1 and 1"),
        (lambda: ByMatrix([[1, 0], [0, 0.9]]), "row 2, column 2 is not 1"),
        (lambda: ByMatrix([[1, 0.5], [0.4, 1]]), "the matrix must be symmetric"),
        (
            lambda: ByMatrix([[1, 0.9, -0.9], [0.9, 1, 0.9], [-0.9, 0.9, 1]]),
            "the smallest eigenvalue is -0.8, it must not be negative",
        ),
        (lambda: total_sd([1, 2], ByMatrix([[1]])), "a matrix of 1 does not fit 2 lines"),
        (lambda: total_sd([1, 2], DEFAULT_CORRELATION, ["labor"]), "1 groups for 2 lines"),
    ],
)
def test_correlation_that_cannot_be_is_refused(make, said):
    with pytest.raises(CorrelationFaulty) as caught:
        make()
    assert said in str(caught.value)


def test_all_that_is_wrong_with_a_matrix_is_reported_at_once():
    with pytest.raises(CorrelationFaulty) as caught:
        ByMatrix([[0.9, 1.5], [0.4, 1.0]])
    assert len(caught.value.faults) == 3


def test_a_matrix_on_the_edge_of_the_possible_is_taken():
    root = ByMatrix(np.ones((3, 3))).root
    np.testing.assert_allclose(root @ root.T, np.ones((3, 3)), atol=1e-6)


def test_a_matrix_that_is_given_may_be_changed_afterwards():
    given_matrix = np.eye(2)
    correlation = ByMatrix(given_matrix)
    given_matrix[0, 1] = 0.5
    assert correlation.is_independent


def test_groups_may_be_sent_to_another_process():
    correlation = ByGroups(0.2, {"labor": 0.6})
    assert pickle.loads(pickle.dumps(correlation)) == correlation  # noqa: S301
