"""Backup of a draw: a bill and what took it back leave it together, unless a draw took of them."""

from datetime import UTC, date, datetime

import pytest

from estimator.funding.draw_backup import without_reversed
from estimator.funding.draw_requests import BackupPart


def part(row, cents, drawn_before_cents=0):
    return BackupPart(
        row, "3", date(2026, 3, 2), "Ridge Road Quarry", "Q-1187",
        datetime(2026, 3, 2, 17, tzinfo=UTC), cents, drawn_before_cents,
        cents - drawn_before_cents, 0, (),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("drawn_of_bill", "drawn_of_reversal", "rows"),
    [(0, 0, [9]), (50_000, 0, [7, 8, 9]), (0, -50_000, [7, 8, 9]), (50_000, -50_000, [7, 8, 9])],
)
def test_a_pair_leaves_the_backup_only_if_nothing_of_either_was_drawn(
    drawn_of_bill, drawn_of_reversal, rows
):
    parts = [part(7, 50_000, drawn_of_bill), part(8, -50_000, drawn_of_reversal), part(9, 20_000)]
    assert [one.row for one in without_reversed(parts, {7: 8})] == rows
