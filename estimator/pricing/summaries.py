"""Summaries of an estimate: the same cents by phase, kind, element, and the quantities to plan for.

Every sum is exact: whole cents, and quantities as whole numbers of their last printed decimal.
"""

from __future__ import annotations

from decimal import Decimal

from estimator.money import dollars, exact_arithmetic, from_fixed_point
from estimator.pricing.estimate import Estimate

NO_ELEMENT = "no element"


def cash_by_phase(estimate: Estimate) -> dict[str, Decimal]:
    """Return [$] paid direct cost by phase code, in the order of the scope."""
    return _by(estimate, "phase", "cash_cents")


def own_by_phase(estimate: Estimate) -> dict[str, Decimal]:
    """Return [$] value of unpaid own labor and material by phase code."""
    return _by(estimate, "phase", "own_cents")


def cash_by_kind(estimate: Estimate) -> dict[str, Decimal]:
    """Return [$] paid direct cost by kind of resource, largest first."""
    ordered = sorted(
        estimate.priced.lines.paid_by_kind.items(), key=lambda pair: (-pair[1], pair[0])
    )
    return {kind: dollars(cents) for kind, cents in ordered}


def cash_by_element(estimate: Estimate) -> dict[str, Decimal]:
    """Return [$] paid direct cost by UNIFORMAT II element, sorted."""
    totals = _by(estimate, "element", "cash_cents")
    return dict(sorted((element or NO_ELEMENT, total) for element, total in totals.items()))


def cash_by_credit(estimate: Estimate) -> dict[str, Decimal]:
    """Return [$] paid direct cost by whether it normally counts toward the credit.

    The keys are `yes`, `no` and `ask`; a tax adviser decides in each case.
    """
    totals = _by(estimate, "credit", "cash_cents")
    return {answer: totals.get(answer, Decimal("0.00")) for answer in ("yes", "no", "ask")}


def labor_hours(estimate: Estimate) -> dict[str, Decimal]:
    """Return [hr] by trade, the name of the labor resource, unpaid owner labor included."""
    return _ordered(estimate, "labor", "hr")


def machine_days(estimate: Estimate) -> dict[str, Decimal]:
    """Return [day] ordered of each machine that is rented by the day."""
    return _ordered(estimate, "equipment", "day")


def machine_hours(estimate: Estimate) -> dict[str, Decimal]:
    """Return [hr] ordered of each machine that is paid by the hour."""
    return _ordered(estimate, "equipment", "hr")


def tons_placed(estimate: Estimate) -> Decimal:
    """Return [ton] ordered of all materials that are bought by the ton."""
    return _bought(estimate, "material", "ton")


def cubic_yards_placed(estimate: Estimate) -> Decimal:
    """Return [cy] ordered of all materials that are bought by the cubic yard."""
    return _bought(estimate, "material", "cy")


def tons_disposed(estimate: Estimate) -> Decimal:
    """Return [ton] tipped."""
    return _bought(estimate, "disposal", "ton")


def loads(estimate: Estimate) -> Decimal:
    """Return [load] hauled in or away."""
    return _bought(estimate, "haul", "load") + _bought(estimate, "disposal", "load")


def blades(estimate: Estimate) -> Decimal:
    """Return [blade] used up."""
    return _bought(estimate, "consumable", "blade")


def planning_quantities(estimate: Estimate) -> dict[str, Decimal]:
    """Return the bulk quantities that a job is planned by, those that are not zero."""
    listed = {
        "tons of material": tons_placed(estimate),
        "cubic yards of material": cubic_yards_placed(estimate),
        "tons tipped": tons_disposed(estimate),
        "loads hauled": loads(estimate),
        "blades": blades(estimate),
    }
    return {name: amount for name, amount in listed.items() if amount}


@exact_arithmetic
def _bought(estimate: Estimate, kind: str, unit_name: str) -> Decimal:
    return sum(_ordered(estimate, kind, unit_name).values(), Decimal(0))


def _by(estimate: Estimate, column: str, cents: str) -> dict[str, Decimal]:
    """Return sums of items by a column, in the order in which its values first stand there."""
    columns, totals = estimate.item_columns, dict[str, int]()
    for key, amount in zip(columns[column], columns[cents], strict=True):
        totals[key] = totals.get(key, 0) + amount
    return {key: dollars(total) for key, total in totals.items()}


@exact_arithmetic
def _ordered(estimate: Estimate, kind: str, unit_name: str) -> dict[str, Decimal]:
    """Return ordered quantities of resources by name, summed exactly in their last decimal."""
    result: dict[str, Decimal] = {}
    for rate, scaled, decimals in estimate.priced.lines.bought:
        if rate.kind == kind and rate.unit.name == unit_name:
            quantity = from_fixed_point(scaled, decimals)
            result[rate.name] = result.get(rate.name, Decimal(0)) + quantity
    return dict(sorted(result.items()))
