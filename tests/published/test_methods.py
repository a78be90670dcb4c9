"""The choice between methods against textbook break-evens and open root finders."""

from decimal import Decimal

import numpy as np
from scipy.optimize import brentq

from estimator.studies.comparison.break_even import cheapest_intervals
from estimator.studies.comparison.curves import cost_curves
from estimator.studies.comparison.varied import varied_named
from tests.published.source import published
from tests.scope.methods.choices import BY_HAND, pit_choice, sample_choice


@published(
    source="Source not recorded: engineering economy, break-even of two alternatives",
    section="N = (F2 - F1) / (v1 - v2): fixed costs F, cost per unit v",
    status="from memory",
    note="the markups on a fixed sum cancel: here F is varied and N held",
)
def test_fixed_sums_break_even_where_the_textbook_formula_puts_it():
    slow = {**BY_HAND, "name": "slow", "inputs": {"production_rate": "1.75 ton/hr"}}
    comparison = pit_choice(slow, BY_HAND)
    varied = varied_named(comparison, "carrying it in: mobilization")
    found = cheapest_intervals(comparison, varied, 4100.0, 4190.0)
    # v1 - v2 = 4 x 36.00 x (1/1.75 - 1/3.50) = 41.142857 $/ton; N = 100.8 ton: F = 4,147.20
    assert [one.methods for one in found.intervals] == [(1,), (0, 1), (0,)]
    assert found.intervals[1].first == found.intervals[1].last == Decimal("4147.20")


@published(
    source="scipy.optimize.brentq (R. P. Brent, Algorithms for Minimization, 1973)",
    section="root of the difference of two methods over the turnaround of a truck",
    status="derived",
)
def test_a_root_finder_ends_at_the_same_turnaround():
    comparison = sample_choice("30.020")
    varied = varied_named(comparison, "truck turnaround")

    def difference(minutes):
        cents = cost_curves(comparison, varied, np.array([minutes])).cents[1:3, 0]
        return float(cents[0] - cents[1])

    below, above = cheapest_intervals(comparison, varied, 60.0, 240.0, (1, 2)).intervals
    root = brentq(difference, 60.0, 240.0, xtol=1e-6)
    assert float(below.last) <= root <= float(above.first)
