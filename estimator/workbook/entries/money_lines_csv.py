"""Rows of money as CSV for whoever keeps the accounts, with nothing in it that is a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from estimator.tracking.money_lines import MoneyLine
from estimator.tracking.money_lines_json import money_line_fields
from estimator.workbook.writing.safe_text import csv_text

HEADINGS = (
    "row", "entry", "happened", "entered", "party", "document", "note", "code", "kind",
    "quantity", "unit", "net", "tax", "amount", "billed", "accrued", "paid", "open",
    "reverses", "pays", "bank_line",
)  # fmt: skip
_WORDS = ("party", "document", "note", "code", "unit", "bank_line")


def money_lines_csv(rows: Iterable[MoneyLine]) -> str:
    """Return rows of money as CSV, sums in dollars and cents.

    Parameters
    ----------
    rows : iterable of MoneyLine
        See `lines_of_money`.

    Notes
    -----
    A text that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    text = io.StringIO()
    writer = csv.DictWriter(text, HEADINGS, lineterminator="\n")
    writer.writeheader()
    for one in rows:
        fields = money_line_fields(one)
        writer.writerow({
            name: csv_text(value) if name in _WORDS else value for name, value in fields.items()
        })  # fmt: skip
    return text.getvalue()
