"""Student's t: how far a mean of few observations may be from the truth."""

from __future__ import annotations

from math import cos, expm1, pi, sin, sqrt
from statistics import NormalDist

from estimator.errors import RangeFaulty, fault


def student_t(two_tail_probability: float, degrees_of_freedom: int) -> float:
    """Return the t that is exceeded, in either direction, with a given probability.

    Parameters
    ----------
    two_tail_probability : float
        [fraction] 0.2 for an interval that holds 80 %.
    degrees_of_freedom : int
        Observations less one.

    Raises
    ------
    RangeFaulty
        If the probability is not between 0 and 1, or there is no degree of freedom.

    References
    ----------
    G. W. Hill, "Algorithm 396: Student's t-quantiles", Communications of the ACM 13 (1970),
    p. 619 (from memory; the tests compare it with SciPy).

    Examples
    --------
    >>> round(student_t(0.05, 10), 3), round(student_t(0.2, 2), 3)
    (2.228, 1.886)
    """
    p, n = two_tail_probability, degrees_of_freedom
    if not 0.0 < p < 1.0:
        raise fault(RangeFaulty, f"{p} is no probability", "between 0 and 1", "probability")
    if n < 1:
        raise fault(RangeFaulty, "are too few observations", "two at least", "observations")
    if n == 1:
        return cos(p * pi / 2) / sin(p * pi / 2)
    if n == 2:
        return sqrt(2 / (p * (2 - p)) - 2)
    return _hill(p, n)


def _hill(p: float, n: int) -> float:
    a = 1 / (n - 0.5)
    b = 48 / a**2
    c = ((20700 * a / b - 98) * a - 16) * a + 96.36
    d = ((94.5 / (b + c) - 3) / b + 1) * sqrt(a * pi / 2) * n
    y = (d * p) ** (2 / n)
    if y <= 0.05 + a:  # far out in the tail
        far = 1 / (((n + 6) / (n * y) - 0.089 * d - 0.822) * (n + 2) * 3)
        return sqrt(n * ((far + 0.5 / (n + 4)) * y - 1) * (n + 1) / (n + 2) + n / y)
    x = NormalDist().inv_cdf(p / 2)
    if n < 5:
        c += 0.3 * (n - 4.5) * (x + 0.6)
    c += (((0.05 * d * x - 5) * x - 7) * x - 2) * x + b
    y = x * x
    y = (((((0.4 * y + 6.3) * y + 36) * y + 94.5) / c - y - 3) / b + 1) * x
    return sqrt(n * expm1(a * y * y))
