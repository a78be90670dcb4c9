"""Balance of the loan and course of the cash on the terminal."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from api.commands.printing import hanging, page, sentences, show_table, table
from estimator.funding.loan_balance import SOURCE, USE
from estimator.money import cents_money, money_text, whole_half_up

if TYPE_CHECKING:
    from estimator.funding.loan_balance import LoanBalance

_MONTH = (
    ("paid", "Paid"), ("equity", "Equity\ncounted"), ("lent", "Loan\ndrawn"),
    ("interest", "Interest"), ("balance", "Loan\nbalance"), ("owner_paid", "Owner\nhas paid"),
)  # fmt: skip


def show_balance(name: str, balance: LoanBalance) -> None:
    """Print sources and uses line by line, and whether they balance.

    Parameters
    ----------
    name : str
        Of the project.
    balance : LoanBalance
        At P50 and P80.
    """
    with page() as out:
        out.print(f"{name}: is the loan in balance, as of {balance.as_of}\n")
        shown = table(("", "text"), ("P50", "number"), ("P80", "number"))
        for side, title in ((SOURCE, "Sources left"), (USE, "Uses left")):
            for one in balance.lines:
                if one.side == side:
                    shown.add_row(one.name, cents_money(one.p50_cents), cents_money(one.p80_cents))
            shown.add_row(title, *map(cents_money, balance.sums(side)))
            shown.add_section()
        shown.add_row("Sources less uses", *map(cents_money, balance.surplus_cents))
        show_table(out, shown)
        out.print()
        hanging(out, "", "", balance.sentence)


def show_cash(name: str, at: str, cash: dict[str, Any]) -> None:
    """Print the cash by month, and what is said of it.

    Parameters
    ----------
    name, at : str
        Of the project; `P50` or `P80`.
    cash : dict
        See `cash_fields`.
    """
    with page() as out:
        out.print(f"{name}: the cash from {cash['as_of']} on, at {at}, in whole dollars\n")
        shown = table(("Up to", "code"), *((heading, "number") for _, heading in _MONTH))
        for month in cash["months"]:
            shown.add_row(month["end"], *(_whole(month[key]) for key, _ in _MONTH))
        show_table(out, shown)
        out.print()
        for sentence in cash["sentences"]:
            hanging(out, "- ", "  ", sentence)
        ways = [
            f"{one['way']}: {money_text(Decimal(one['peak']))} at the peak, on {one['peak_day']}, "
            f"{_compared(Decimal(one['saved']))}"
            for one in cash["ways"]
        ]
        sentences(out, "What brings the owner's peak down", ways)


def _whole(dollars: str) -> str:
    return f"{whole_half_up(Fraction(dollars)):,}"


def _compared(saved: Decimal) -> str:
    if not saved:
        return "no lower"
    return f"{money_text(abs(saved))} {'lower' if saved > 0 else 'higher'}"
