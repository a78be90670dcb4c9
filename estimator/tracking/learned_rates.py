"""Rates learned from the job's own record: a ratio, how sure it is, and what to write down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import sqrt
from statistics import median

from estimator.errors import RangeFaulty, fault
from estimator.production.student_t import student_t

LEAST_OBSERVATIONS = 3
_CONFIDENCE = 0.8
_FAR = 3.5
_NEAR = 0.02  # of the middle: what is rounded to the cent or the quarter hour is no outlier
_NORMAL_MAD = 0.6745
_SIGMAS_IN_A_RANGE = 2 * 1.2816  # a low and a high that each are passed one time in ten


@dataclass(frozen=True)
class Observation:
    """One day, bill or load of the record.

    Parameters
    ----------
    happened : date
        The day.
    quantity : float
        What the rate is per: tons, hours, feet; above zero.
    amount : float
        What it took or gave: hours, dollars, tons.
    note : str
        Where it stands: `day sheet 2026-05-14`, `row 112`.
    """

    happened: date
    quantity: float
    amount: float
    note: str = ""

    @property
    def ratio(self) -> float:
        """Amount per unit of the quantity."""
        return self.amount / self.quantity


@dataclass(frozen=True)
class Learned:
    """A rate as the record has it.

    Parameters
    ----------
    observations : int
        How many there were.
    mean : float
        All amounts over all quantities: weighted by quantity.
    low, high : float
        Interval that is to hold the true mean, by Student's t.
    confidence : float
        [fraction] How often it does.
    standard_error : float
        Of the mean.
    outliers : tuple of Observation
        Far from the others; they are shown, and counted in all the figures.
    """

    observations: int
    mean: float
    low: float
    high: float
    confidence: float
    standard_error: float
    outliers: tuple[Observation, ...]


def learned_rate(record: Sequence[Observation], confidence: float = _CONFIDENCE) -> Learned:
    """Return what a record says about a rate.

    Parameters
    ----------
    record : sequence of Observation
        Three at least.
    confidence : float
        [fraction] How often the interval is to hold the true mean.

    Raises
    ------
    RangeFaulty
        If there are fewer than three observations, or a quantity is not above zero.

    Notes
    -----
    Mean R = sum y / sum x. Its variance is that of a ratio estimate, without a correction for a
    finite population: sum (y - R x)^2 / (n (n - 1) xbar^2); interval R +- t s with n - 1 degrees of
    freedom. An outlier is an observation whose modified z-score, 0.6745 |r - median| over the
    median absolute deviation, is above 3.5, and which is more than 2 % off the median: rounding to
    the cent and to the quarter hour makes none.

    References
    ----------
    W. G. Cochran, "Sampling Techniques", 3rd ed. 1977, section 6.4 (from memory);
    B. Iglewicz and D. C. Hoaglin, "How to Detect and Handle Outliers", 1993, as cited in the
    NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.5.17.

    Examples
    --------
    >>> hours = {4: 9, 5: 10, 6: 11}
    >>> learned = learned_rate([Observation(date(2026, 5, d), 20, h) for d, h in hours.items()])
    >>> round(learned.mean, 3), round(learned.low, 3), round(learned.high, 3)
    (0.5, 0.446, 0.554)
    """
    count = len(record)
    if count < LEAST_OBSERVATIONS:
        what = f"{count}, too few to learn from"
        raise fault(RangeFaulty, what, f"give {LEAST_OBSERVATIONS} or more", "observations")
    if any(one.quantity <= 0 for one in record):
        raise fault(RangeFaulty, "a quantity is not above zero", where="observations")
    quantity = sum(one.quantity for one in record)
    mean = sum(one.amount for one in record) / quantity
    squares = sum((one.amount - mean * one.quantity) ** 2 for one in record)
    error = sqrt(squares / (count * (count - 1))) / (quantity / count)
    reach = student_t(1 - confidence, count - 1) * error
    return Learned(count, mean, mean - reach, mean + reach, confidence, error, _outliers(record))


def _outliers(record: Sequence[Observation]) -> tuple[Observation, ...]:
    middle = median(one.ratio for one in record)
    deviation = median(abs(one.ratio - middle) for one in record)
    least = max(_FAR * deviation / _NORMAL_MAD, _NEAR * abs(middle))
    return tuple(one for one in record if abs(one.ratio - middle) > least)


@dataclass(frozen=True)
class Proposal:
    """A rate to write into a table, and what it rests on.

    Parameters
    ----------
    rate : float
        Between the table's and the record's.
    weight : float
        [fraction] How much of it is the record's.
    evidence : str
        The source of the new row.
    """

    rate: float
    weight: float
    evidence: str


def proposed_rate(
    learned: Learned, table: float, low: float | None, high: float | None, unit: str
) -> Proposal:
    """Return the rate to propose: the record's, drawn toward the table's where it is thin.

    Parameters
    ----------
    learned : Learned
        What the record says.
    table, low, high : float
        The table's rate and its range; without a range the record's mean is proposed as it is, and
        the evidence says so.
    unit : str
        Of the rate, for the evidence.

    Notes
    -----
    Both are taken as normal: the table with s0 = (high - low) / 2.56 (a low and a high each passed
    one time in ten), the record with its standard error s. The weight of the record is
    s0^2 / (s0^2 + s^2): a steady or long record outweighs the table, a thin one does not.

    References
    ----------
    A. Gelman et al., "Bayesian Data Analysis", 3rd ed. 2013, section 2.5 (from memory).

    Examples
    --------
    >>> learned = Learned(6, 7.2, 6.8, 7.6, 0.8, 0.3, ())
    >>> proposal = proposed_rate(learned, 9.0, 7.0, 11.0, "ton/hr")
    >>> round(proposal.rate, 2), round(proposal.weight, 2)
    (7.26, 0.96)
    """
    weight, drawn = 1.0, "which states no range: the record's mean as it is"
    if low is not None and high is not None and high > low:
        table_variance = ((high - low) / _SIGMAS_IN_A_RANGE) ** 2
        weight = table_variance / (table_variance + learned.standard_error**2)
        drawn = f"range {low:.4g} to {high:.4g}; drawn toward it, the record weighs "
        drawn += f"{100 * weight:.0f} %"
    rate = weight * learned.mean + (1 - weight) * table
    outliers = len(learned.outliers)
    far = f", {outliers} of them far from the others" if outliers else ""
    evidence = (
        f"own record: {learned.observations} observations{far}, mean {learned.mean:.4g} {unit}, "
        f"{100 * learned.confidence:.0f} % interval {learned.low:.4g} to {learned.high:.4g}; "
        f"table {table:.4g}, {drawn}"
    )
    return Proposal(rate, weight, evidence)
