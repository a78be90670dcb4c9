"""Days of a thirty-day month: what the 29th to the 31st and the end of February count as."""

from datetime import date

import pytest

from estimator.funding.day_counts import (
    days_30_360,
    days_30_360_end_of_february,
    days_30e_360,
)


@pytest.mark.parametrize(
    ("start", "end", "bond", "end_of_february", "european"),
    [
        ("2026-01-31", "2026-02-28", 28, 28, 28),
        ("2026-01-31", "2026-03-31", 60, 60, 60),
        ("2026-01-30", "2026-03-31", 60, 60, 60),
        ("2026-01-29", "2026-03-31", 62, 62, 61),
        ("2026-02-28", "2026-08-31", 183, 180, 182),
        ("2028-02-28", "2028-03-31", 33, 33, 32),  # of a leap year: not its last day
        ("2028-02-29", "2029-02-28", 359, 360, 359),
    ],
)
def test_the_end_of_a_month_counts_by_the_rule_of_each_convention(
    start, end, bond, end_of_february, european
):
    days = date.fromisoformat(start), date.fromisoformat(end)
    assert days_30_360(*days) == bond
    assert days_30_360_end_of_february(*days) == end_of_february
    assert days_30e_360(*days) == european
