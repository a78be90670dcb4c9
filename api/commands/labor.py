"""`groundsill labor`: what an hour of hired labor costs, and what a workweek pays."""

from __future__ import annotations

from typing import Any

import click

from api.commands.body_options import body_at, calculated, colon_words, print_result
from api.commands.whole_help import Commands

_TAX = "NAME:FRACTION, or NAME:FRACTION:WAGE BASE, such as Medicare:0.0145."
_TAX_FORMS = (("name", "fraction"), ("name", "fraction", "wage_base"))
_INSURANCE = "NAME:DOLLARS PER $100 OF PAY, or with :MODIFIER."
_INSURANCE_FORMS = (("name", "per_100"), ("name", "per_100", "modifier"))
_WORKED = "HOURS:RATE, such as 46:12.00; several if paid at several rates."
_WORKED_FORMS = (("hours", "rate_per_hr"),)
# Where each option stands in the body of the service.
_BURDEN = {
    "wage": "wage/wage_per_hr", "cash_fringe": "wage/cash_fringe_per_hr",
    "plan": "wage/plan_fringe_per_hr", "hours": "straight_hours", "overtime": "overtime_hours",
    "paid_before": "paid_before", "year": "tax_year", "state": "state", "tax": "taxes",
    "insurance": "insurance", "leave": "time_off/leave_hours",
    "breaks": "time_off/break_minutes_per_day", "shift": "time_off/shift_hours",
    "working_minutes": "time_off/working_minutes_per_hr",
}  # fmt: skip
_WEEK = {"worked": "worked", "bonus": "bonus", "cash_fringe": "cash_fringe_per_hr"}
_SALARY = {
    "salary": "salary", "periods": "periods_per_year", "covers": "salary_hours", "hours": "hours",
}  # fmt: skip
_BONUS = {"bonus": "bonus", "hours": "week_hours"}
_json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON.")


@click.group(cls=Commands)
def labor() -> None:
    """Work out what an hour of hired labor costs, or what a workweek pays."""


@labor.command()
@click.option("--wage", required=True, metavar="$/HR", help="Straight-time wage, such as 24.00.")
@click.option("--cash-fringe", metavar="$/HR", help="Paid in cash in place of a benefit plan.")
@click.option("--plan", metavar="$/HR", help="Paid into a benefit plan.")
@click.option(
    "--hours",
    required=True,
    metavar="HR",
    help="Hours paid at straight time, such as 2000 for a year.",
)
@click.option("--overtime", metavar="HR", help="Hours paid at one and a half times the wage.")
@click.option("--paid-before", metavar="$", help="Paid earlier in the year, toward the wage bases.")
@click.option("--year", type=int, metavar="YEAR", help="Use the taxes of this year.")
@click.option("--state", help="State whose unemployment tax is due, with --year: Ohio, or OH.")
@click.option("--tax", multiple=True, help=_TAX)
@click.option("--insurance", multiple=True, help=_INSURANCE)
@click.option(
    "--leave", metavar="HR", help="Hours paid but not worked: holidays, vacation, sick days."
)
@click.option("--breaks", metavar="MIN", help="Minutes of paid breaks in a day.")
@click.option("--shift", metavar="HR", help="Paid hours in a day; 8 if left out.")
@click.option(
    "--working-minutes", metavar="MIN", help="Minutes worked in an hour between breaks; else 60."
)
@_json_option
def burden(*, as_json: bool, **options: Any) -> None:
    """Work out what a paid hour costs, and, with leave and breaks, a productive one.

    Get the rates of taxes and insurance from your payroll adviser, your insurer and your state. A
    --tax replaces the tax of the same name of the --year.
    """
    from api.calculations.labor import labor as labor_cost
    from api.calculations.labor_shapes import HiredLabor, LaborAnswer
    from api.commands.labor_shown import show_labor
    from estimator.errors import LaborFaulty

    options["tax"] = [colon_words(one, _TAX, _TAX_FORMS) for one in options["tax"]]
    options["insurance"] = [
        colon_words(one, _INSURANCE, _INSURANCE_FORMS) for one in options["insurance"]
    ]
    result = calculated(labor_cost, HiredLabor, body_at(_BURDEN, options), LaborFaulty, _BURDEN)
    print_result(result, LaborAnswer(), show_labor, as_json=as_json)


@labor.command()
@click.option("--worked", multiple=True, required=True, help=_WORKED)
@click.option("--bonus", metavar="$", help="Bonus promised for the week: part of the regular rate.")
@click.option("--cash-fringe", metavar="$/HR", help="Paid in cash in place of a benefit plan.")
@_json_option
def week(*, as_json: bool, **options: Any) -> None:
    """Work out what a workweek pays, with time and a half past 40 hours (29 CFR part 778)."""
    from api.calculations.overtime import overtime
    from api.calculations.overtime_shapes import OvertimeAnswer, Workweek
    from api.commands.labor_shown import show_week
    from estimator.errors import LaborFaulty

    options["worked"] = [colon_words(one, _WORKED, _WORKED_FORMS) for one in options["worked"]]
    result = calculated(overtime, Workweek, body_at(_WEEK, options), LaborFaulty, _WEEK)
    print_result(result, OvertimeAnswer(), show_week, as_json=as_json)


@labor.command()
@click.option("--salary", required=True, metavar="$", help="Salary for one pay period.")
@click.option(
    "--periods",
    type=int,
    metavar="NUMBER",
    default=52,
    help="Pay periods in a year, such as 26, 24 or 12; 52 if left out.",
)
@click.option("--covers", required=True, metavar="HR", help="Hours of a week that it pays for.")
@click.option("--hours", required=True, metavar="HR", help="Hours worked this week.")
@_json_option
def salary(*, as_json: bool, **options: Any) -> None:
    """Work out what a workweek on a salary pays (29 CFR 778.113)."""
    from api.calculations.overtime import salary as salary_pay
    from api.calculations.overtime_shapes import OvertimeAnswer, SalariedWeek
    from api.commands.labor_shown import show_week
    from estimator.errors import LaborFaulty

    result = calculated(salary_pay, SalariedWeek, body_at(_SALARY, options), LaborFaulty, _SALARY)
    print_result(result, OvertimeAnswer(), show_week, as_json=as_json)


@labor.command()
@click.option(
    "--bonus", required=True, metavar="$", help="Bonus promised for all the weeks together."
)
@click.option(
    "--hours",
    multiple=True,
    required=True,
    metavar="HR",
    help="Hours worked in one week; give it for each week.",
)
@_json_option
def bonus(*, as_json: bool, **options: Any) -> None:
    """Work out the overtime due on a bonus for several weeks (29 CFR 778.209)."""
    from api.calculations.overtime import bonus as bonus_cost
    from api.calculations.overtime_shapes import BonusAnswer, LateBonus
    from api.commands.labor_shown import show_bonus
    from estimator.errors import LaborFaulty

    options["hours"] = list(options["hours"])
    weeks = len(options["hours"])
    result = calculated(bonus_cost, LateBonus, body_at(_BONUS, options), LaborFaulty, _BONUS)
    print_result(result, BonusAnswer(), lambda one: show_bonus(one, weeks), as_json=as_json)
