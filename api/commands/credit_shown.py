"""The file of the rehabilitation credit on the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from api.commands.printing import hanging, sentences, show_table, table
from estimator.errors import how_many
from estimator.funding.tax_credit import ASK
from estimator.money import cents_money, cents_text

if TYPE_CHECKING:
    from rich.console import Console

    from estimator.funding.credit_from_books import CreditFile

_ANSWERS = {
    "yes": "Normally counts",
    "no": "Does not count",
    "ask": "To be asked about, not in the credit",
}


def show_credit(out: Console, shown: CreditFile, *, with_entries: bool) -> None:
    """Print what counts, the test, the credit by year, and what would endanger it.

    Parameters
    ----------
    out : Console
    shown : CreditFile
        What the books give.
    with_entries : bool
        Whether each cost is listed.
    """
    lines = [(words, shown.cents_by_answer[key]) for key, words in _ANSWERS.items()]
    later = [("Counts, but came after that year", shown.later_cents)] if shown.later_cents else []
    own = [("Own labor, in no figure", shown.unpaid.cents)] if shown.unpaid.cents else []
    for label, cents in [*lines, *later, *own]:
        out.print(f"{label:<38}{cents_money(cents):>18}")
    _show_windows(out, shown)
    _show_years(out, shown)
    sentences(out, "What would endanger it", shown.dangers)
    if with_entries:
        _show_entries(out, shown)
    out.print()
    hanging(out, "", "", ASK)


def _show_windows(out: Console, shown: CreditFile) -> None:
    passing = sum(one.passes for one in shown.windows)
    out.print(
        f"\nSubstantial-rehabilitation test: {how_many(len(shown.windows), 'window')} of "
        f"{shown.facts.months} months, {passing or 'none'} passing."
    )
    columns = table(
        ("From", "code"), ("To", "code"), ("Counted", "number"), ("To exceed", "number"),
        ("Over", "number"), ("", "code"),
    )  # fmt: skip
    for one in shown.windows:
        sums = [one.spent_cents, one.needed_cents, one.over_cents]
        verdict = "passes" if one.passes else "misses"
        columns.add_row(str(one.start), str(one.end), *map(cents_money, sums), verdict)
    show_table(out, columns)


def _show_years(out: Console, shown: CreditFile) -> None:
    credit = shown.credit
    in_all = cents_money(credit.credit_cents)
    out.print(f"\n20 % of what counts, if the test is passed: {in_all}")
    for year, cents in credit.by_year:
        out.print(f"  {year}{cents_money(cents):>14}")
    out.print(
        f"The basis of the building is reduced by {cents_money(credit.basis_reduction_cents)}."
    )
    if credit.credit_cents:
        given = ", ".join(f"{one.until}: {one.percent} %" for one in shown.recapture)
        hanging(out, "", "  ", f"Taken back if the building is given up before {given}.")


def _show_entries(out: Console, shown: CreditFile) -> None:
    out.print("\nCosts")
    columns = table(
        ("Row", "number"), ("Day", "code"), ("Code", "code"), ("Amount", "number"),
        ("Counts", "code"), ("Reason; what is missing", "text"),
    )  # fmt: skip
    for one in shown.entries:
        missing = f"; without {', '.join(one.missing)}" if one.missing else ""
        columns.add_row(
            str(one.row), str(one.day), one.code, cents_text(one.cents), one.answer,
            f"{one.reason}{missing}",
        )  # fmt: skip
    show_table(out, columns)
