"""The lines of a draw as CSV for the lender's own system."""

from __future__ import annotations

import csv
import io

from estimator.funding.draw_package import DrawPackage
from estimator.money import cents_text
from estimator.workbook.writing.safe_text import csv_text

_OF_STATE = ("scheduled", "change", "revised", "done_before", "stored_before", "retainage_before")
_OF_LINE = (
    "done", "done_this_period", "stored", "done_and_stored", "retainage", "retainage_this_period",
    "earned", "balance_to_finish", "billed",
)  # fmt: skip
_BESIDE = ("unbacked", "earned", "incurred", "paid", "cut")
HEADINGS = (
    "draw", "issue", "through", "state", "line", "name", "kind", "basis", "percent", *_OF_STATE,
    *_OF_LINE, "without_receipt", "earned_in_budget", "incurred", "paid", "cut", "cut_reason",
)  # fmt: skip


def draw_csv(package: DrawPackage) -> str:
    """Return a row for each line of a draw, sums in dollars and cents.

    Parameters
    ----------
    package : DrawPackage
        Any draw, also one that is open.

    Notes
    -----
    `earned` is done and stored less retainage. A text that a spreadsheet would take for a formula
    gets an apostrophe before it. The same draw as JSON has all sheets.
    """
    request, text = package.request, io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(HEADINGS)
    head = (request.number, request.issue, request.through, package.state)
    for line in request.lines:
        sources = ((line.figures.state, _OF_STATE), (line.figures, _OF_LINE), (line, _BESIDE))
        sums = [getattr(of, f"{name}_cents") for of, names in sources for name in names]
        words = (line.line, line.name, line.kind, line.basis)
        percent = f"{line.figures.state.percent:f}"
        writer.writerow([*head, *map(csv_text, words), percent, *map(cents_text, sums),
                         csv_text(line.cut_reason)])  # fmt: skip
    return text.getvalue()
