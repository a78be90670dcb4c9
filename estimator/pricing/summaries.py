"""Summaries of an estimate: the same cents by phase, kind, element, and the quantities to plan for.

Every sum is exact: whole cents, and quantities as whole numbers of their last printed decimal.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING

from estimator.money import dollars
from estimator.pricing.estimate import Estimate

if TYPE_CHECKING:
    import pandas as pd

NO_ELEMENT = "no element"


def cash_by_phase(estimate: Estimate) -> dict[str, Decimal]:
    """Return [$] paid direct cost by phase code, in the order of the scope."""
    return _by(estimate.items, "phase", "cash_cents")


def own_by_phase(estimate: Estimate) -> dict[str, Decimal]:
    """Return [$] value of unpaid own labor and material by phase code."""
    return _by(estimate.items, "phase", "own_cents")


def cash_by_kind(estimate: Estimate) -> dict[str, Decimal]:
    """Return [$] paid direct cost by kind of resource, largest first; salvage is negative."""
    lines = estimate.lines
    totals = _by(lines.loc[lines["paid"], ["kind", "cents"]], "kind", "cents")
    return dict(sorted(totals.items(), key=lambda pair: (-pair[1], pair[0])))


def cash_by_element(estimate: Estimate) -> dict[str, Decimal]:
    """Return [$] paid direct cost by UNIFORMAT II element, sorted."""
    items = estimate.items.assign(element=estimate.items["element"].replace("", NO_ELEMENT))
    return dict(sorted(_by(items, "element", "cash_cents").items()))


def cash_by_credit(estimate: Estimate) -> dict[str, Decimal]:
    """Return [$] paid direct cost by whether it normally counts toward the credit.

    The keys are `yes`, `no` and `ask`; a tax adviser decides in each case.
    """
    totals = _by(estimate.items, "credit", "cash_cents")
    return {answer: totals.get(answer, Decimal("0.00")) for answer in ("yes", "no", "ask")}


def labor_hours(estimate: Estimate) -> dict[str, Decimal]:
    """Return [hr] by trade, the name of the labor resource, unpaid owner labor included."""
    lines = estimate.lines
    return _quantities(lines[(lines["kind"] == "labor") & (lines["unit"] == "hr")], "name")


def machine_days(estimate: Estimate) -> dict[str, Decimal]:
    """Return [day] ordered of each machine that is rented by the day."""
    lines = estimate.lines
    return _quantities(lines[(lines["kind"] == "equipment") & (lines["unit"] == "day")], "name")


def machine_hours(estimate: Estimate) -> dict[str, Decimal]:
    """Return [hr] ordered of each machine that is paid by the hour."""
    lines = estimate.lines
    return _quantities(lines[(lines["kind"] == "equipment") & (lines["unit"] == "hr")], "name")


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


def _bought(estimate: Estimate, kind: str, unit_name: str) -> Decimal:
    lines = estimate.lines
    chosen = lines[(lines["kind"] == kind) & (lines["unit"] == unit_name)]
    return sum(_quantities(chosen, "unit").values(), Decimal(0))


def _by(frame: pd.DataFrame, column: str, cents: str) -> dict[str, Decimal]:
    totals = frame.groupby(column, observed=True, sort=False)[cents].sum()
    return {str(key): dollars(int(total)) for key, total in totals.items()}


def _quantities(lines: pd.DataFrame, column: str) -> dict[str, Decimal]:
    """Return ordered quantities by a column, summed exactly in their last decimal."""
    scaled = (lines["ordered"] * 10.0 ** lines["decimals"]).round().astype("int64")
    keys = [lines[column].astype(str), lines["decimals"]]
    totals: Mapping[tuple[str, int], int] = dict(scaled.groupby(keys, sort=True).sum().items())  # type: ignore[arg-type]
    result: dict[str, Decimal] = {}
    for (name, decimals), total in totals.items():
        result[name] = result.get(name, Decimal(0)) + Decimal(int(total)).scaleb(-int(decimals))
    return result
