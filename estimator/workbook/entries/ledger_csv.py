"""The ledger as CSV for whoever keeps the accounts: a line for each code and kind of each row."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from estimator.money import cents_text
from estimator.tracking.ledger_lines import LedgerLine
from estimator.workbook.writing.safe_text import clean_text, looks_like_formula

HEADINGS = (
    "row", "happened", "entry", "party", "document", "note", "code", "kind", "billed", "accrued",
    "paid",
)  # fmt: skip


def ledger_csv(lines: Iterable[LedgerLine]) -> str:
    """Return lines of the ledger as CSV, sums in dollars and cents.

    Parameters
    ----------
    lines : iterable of LedgerLine
        See `lines_of_ledger`.

    Notes
    -----
    A text that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(HEADINGS)
    for line in lines:
        spent = line.spent
        words = (line.entry, line.party, line.document, line.note, *line.place)
        sums = (spent.billed_cents, spent.accrued_cents, spent.paid_cents)
        row = "" if line.row is None else line.row
        writer.writerow([row, line.happened, *map(_safe, words), *map(cents_text, sums)])
    return text.getvalue()


def _safe(words: str) -> str:
    cleaned = clean_text(words)
    return f"'{cleaned}" if looks_like_formula(cleaned) else cleaned
