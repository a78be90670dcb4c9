"""What labor costs, on the terminal."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

from api.commands.printing import hanging, page, sentences, show_table, table
from estimator.money import money_text
from estimator.quantity.units import counted

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rich.console import Console

    from estimator.rates.labor.labor_burden import BurdenLine

_ADVICE = (
    "Taxes, insurance and overtime rules differ by state: ask your payroll adviser. "
    "Production rates that you timed yourself already include breaks: price their hours as paid "
    "hours; a handbook's man-hours as productive ones."
)
_FORTY_HOURS = "The federal rule of forty hours (29 CFR 778); some states pay overtime by the day."


def show_labor(result: dict[str, Any]) -> None:
    """Print what an employee costs, line by line, and what an hour of it costs."""
    with page() as out:
        rows = table(("Line", "text"), ("On", "number"), ("Cost", "number"))
        rows.add_row(
            "Straight pay", _hours(result["paid_hours"]), money_text(result["straight_pay"])
        )
        for label, name in (
            ("Overtime premium", "overtime_premium"),
            ("Fringe in cash", "cash_fringe"),
            ("Fringe into a plan", "plan_fringe"),
        ):
            if result[name]:
                rows.add_row(label, "", money_text(result[name]))
        for one in _lines(result):
            rows.add_row(one.name, money_text(one.base), money_text(one.amount))
        rows.add_row("Cost", _hours(result["paid_hours"]), money_text(result["cost"]))
        show_table(out, rows)
        out.print(f"\nA paid hour costs ${result['paid_hour']['total']}.")
        _show_productive(out, result)
        sentences(out, "Where the taxes of the year come from", result["tax_sources"])
        out.print()
        hanging(out, "", "", _ADVICE)


def show_week(result: dict[str, Any]) -> None:
    """Print what a workweek pays."""
    with page() as out:
        rows = table(("Line", "text"), ("Hours", "number"), ("Pay", "number"))
        rows.add_row("Straight pay", _hours(result["hours"]), money_text(result["straight_pay"]))
        rows.add_row(
            f"Overtime premium, half of the regular rate of {money_text(result['regular_rate'])}",
            _hours(result["overtime_hours"]),
            money_text(result["overtime_premium"]),
        )
        if result["cash_fringe"]:
            rows.add_row("Fringe in cash", "", money_text(result["cash_fringe"]))
        rows.add_row("Pay of the week", "", money_text(result["total"]))
        show_table(out, rows)
        out.print()
        hanging(out, "", "", _FORTY_HOURS)


def show_bonus(result: dict[str, Any], weeks: int) -> None:
    """Print what a bonus for some weeks costs with its overtime."""
    with page() as out:
        rows = table(("Line", "text"), ("Pay", "number"))
        rows.add_row(f"Bonus for {counted(str(weeks), 'week')}", money_text(result["bonus"]))
        rows.add_row("Overtime on it, half of its share an hour", money_text(result["overtime"]))
        rows.add_row("Bonus with its overtime", money_text(result["total"]))
        show_table(out, rows)
        out.print()
        hanging(out, "", "", _FORTY_HOURS)


def _lines(result: dict[str, Any]) -> Iterable[BurdenLine]:
    return [*result["taxes"], *result["insurance"]]


def _show_productive(out: Console, result: dict[str, Any]) -> None:
    if result["productive_hour"] is not None:
        out.print(
            f"Of {_hours(result['paid_hours'])} hours {_hours(result['productive_hours'])} are "
            f"productive; a productive hour costs ${result['productive_hour']}."
        )


def _hours(hours: Decimal) -> str:
    return f"{hours.normalize():,f}"
