"""Student's t: how far a mean of few observations may be from the truth."""

from __future__ import annotations

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

    Examples
    --------
    >>> round(student_t(0.05, 10), 3), round(student_t(0.2, 2), 3)
    (2.228, 1.886)
    """
    if not 0.0 < two_tail_probability < 1.0:
        what = f"{two_tail_probability} is not a probability"
        raise fault(RangeFaulty, what, "between 0 and 1", "probability")
    if degrees_of_freedom < 1:
        raise fault(RangeFaulty, "are too few observations", "two at least", "observations")
    from scipy.special import stdtrit

    return float(stdtrit(degrees_of_freedom, 1.0 - two_tail_probability / 2))
