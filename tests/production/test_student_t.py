"""Quantiles of Student's t."""

import pytest

from estimator.errors import RangeFaulty
from estimator.production.student_t import student_t


@pytest.mark.parametrize(
    ("probability", "freedom", "printed"),
    [(0.05, 10, 2.228), (0.05, 5, 2.571), (0.01, 15, 2.947), (0.1, 1, 6.314), (0.2, 30, 1.310)],
)
def test_it_gives_the_table_of_the_nist_handbook(
    probability: float, freedom: int, printed: float
) -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, critical values of t."""
    assert student_t(probability, freedom) == pytest.approx(printed, abs=0.0005)


def test_a_probability_outside_0_to_1_or_a_single_observation_is_refused() -> None:
    with pytest.raises(RangeFaulty, match="is not a probability"):
        student_t(1.0, 3)
    with pytest.raises(RangeFaulty, match="too few observations"):
        student_t(0.2, 0)
