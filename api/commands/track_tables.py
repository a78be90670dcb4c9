"""Tables of the books on the terminal: kinds of cost, orders, own material, machines on rent."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from api.commands.printing import show_table, table
from estimator.money import cents_money, whole_half_up
from estimator.tracking.machines_on_rent import next_call_off

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from rich.console import Console

    from estimator.tracking.earned_value import Performance
    from estimator.tracking.job_track import Track
    from estimator.tracking.kind_status import KindStatus


def show_job_kinds(out: Console, report: Track) -> None:
    """Print where each kind of cost stands on the whole job, in whole dollars."""
    shown = table(
        ("Kind", "text"), ("Budget", "number"), ("On order", "number"), ("Incurred", "number"),
        ("Paid", "number"), ("Open", "number"),
    )  # fmt: skip
    for kind, one in report.status.by_kind().items():
        spent = one.spent
        cents = (
            one.budget_cents, one.committed_cents, spent.incurred_cents, spent.paid_cents,
            spent.open_cents,
        )  # fmt: skip
        shown.add_row(kind, *map(_dollars, cents))
    out.print("\nBy kind, in whole dollars")
    show_table(out, shown)


def show_kinds(out: Console, kinds: Mapping[str, KindStatus]) -> None:
    """Print where each kind of one code stands, to the cent."""
    shown = table(
        ("Kind", "text"), ("Budget", "number"), ("On order", "number"), ("Billed", "number"),
        ("Accrued", "number"), ("Paid", "number"), ("Open", "number"),
    )  # fmt: skip
    for kind, one in kinds.items():
        spent = one.spent
        cents = (
            one.budget_cents, one.committed_cents, spent.billed_cents, spent.accrued_cents,
            spent.paid_cents, spent.open_cents,
        )  # fmt: skip
        shown.add_row(kind, *map(_whole, cents))
    show_table(out, shown)


def show_earned(
    out: Console, performances: Iterable[tuple[str, Performance]], *, in_cents: bool = False
) -> None:
    """Print planned and earned value of phases or kinds, with their variances and indexes."""
    shown = table(
        ("Kind" if in_cents else "Phase or kind", "text"), ("Planned", "number"),
        ("Earned", "number"), ("Cost\nvariance", "number"), ("Schedule\nvariance", "number"),
        ("Cost\nindex", "number"), ("Schedule\nindex", "number"),
    )  # fmt: skip
    for name, one in performances:
        cents = (
            one.planned_cents, one.earned_cents, one.cost_variance_cents,
            one.schedule_variance_cents,
        )  # fmt: skip
        money = map(_whole if in_cents else _dollars, cents)
        shown.add_row(name, *money, str(one.cost_index), str(one.schedule_index))
    out.print(f"\nEarned value and performance indexes{'' if in_cents else ', in whole dollars'}")
    show_table(out, shown)


def show_orders(out: Console, report: Track) -> None:
    """Print orders and subcontracts, where there are any."""
    if not report.orders:
        return
    shown = table(
        ("Order", "code"), ("Vendor", "text"), ("Code", "code"), ("Ordered", "number"),
        ("Billed", "number"), ("To bill", "number"), ("Held\nback", "number"),
    )  # fmt: skip
    for number, one in report.orders.items():
        left = one.committed_cents - one.billed_cents
        cents = (one.committed_cents, one.billed_cents, left, one.retainage_cents)
        shown.add_row(number, one.vendor, one.place[0], *map(_whole, cents))
    out.print("\nOrders and subcontracts, before tax")
    show_table(out, shown)


def show_stock(out: Console, report: Track) -> None:
    """Print what there is of own material, where there is any."""
    if not report.stock:
        return
    shown = table(
        ("Own material", "text"), ("Unit", "text"), ("Recovered", "number"), ("Had", "number"),
        ("Used", "number"), ("Sold", "number"), ("Left", "number"),
    )  # fmt: skip
    for material, one in report.stock.items():
        figures = (one.recovered, one.had, one.used, one.sold, one.left)
        shown.add_row(material, one.unit, *(f"{own.normalize():,f}" for own in figures))
    out.print("")
    show_table(out, shown)


def show_rents(out: Console, report: Track) -> None:
    """Print the machines that are on rent, or whose last bill is not here."""
    stands = [one for one in report.rents if one.accrued_cents or one.rent.called_off is None]
    if not stands:
        return
    out.print("\nMachines on rent")
    shown = table(
        ("Row", "number"), ("Machine", "text"), ("Since", "code"), ("Called off", "code"),
        ("Covers to", "code"), ("Rent", "number"), ("Accrued", "number"),
    )  # fmt: skip
    for one in stands:
        rent = one.rent
        step = next_call_off(rent, report.as_of)
        same_to = "" if step is None else str(step.last_day)
        shown.add_row(
            str(rent.row), rent.machine, str(rent.happened), str(rent.called_off or ""), same_to,
            _whole(one.cents), _whole(one.accrued_cents),
        )  # fmt: skip
    show_table(out, shown)


def _dollars(cents: int) -> str:
    return f"{whole_half_up(Fraction(cents, 100)):,}"


def _whole(cents: int) -> str:
    """Return dollars and cents without the sign, to save room in a table."""
    return cents_money(cents).replace("$", "")
