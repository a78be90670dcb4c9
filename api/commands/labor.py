"""`groundsill labor`: what an hour of hired labor costs, and what a workweek pays."""

from __future__ import annotations

from collections.abc import Sequence

import click

from api.commands.body_options import calculated, colon_words, print_result, stated_options
from api.commands.whole_help import Commands

_TAX = "NAME:FRACTION, or NAME:FRACTION:WAGE BASE, such as Medicare:0.0145."
_TAX_FORMS = (("name", "fraction"), ("name", "fraction", "wage_base"))
_INSURANCE = "NAME:DOLLARS PER $100 OF PAY, or with :MODIFIER."
_INSURANCE_FORMS = (("name", "per_100"), ("name", "per_100", "modifier"))
_WORKED = "HOURS:RATE, such as 46:12.00; several if paid at several rates."
_json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON.")


@click.group(cls=Commands)
def labor() -> None:
    """Work out what an hour of hired labor costs, or what a workweek pays."""


@labor.command()
@click.option("--wage", required=True, metavar="$/HR", help="Straight-time wage, such as 24.00.")
@click.option("--cash-fringe", metavar="$/HR", help="Paid in cash in place of a benefit plan.")
@click.option("--plan", metavar="$/HR", help="Paid into a benefit plan.")
@click.option("--hours", required=True, metavar="HR", help="At straight time: 2000 for a year.")
@click.option("--overtime", metavar="HR", help="At one and a half times the wage.")
@click.option("--paid-before", metavar="$", help="Earlier in the year, against the wage bases.")
@click.option("--year", type=int, help="Take the taxes of that year.")
@click.option("--state", help="Whose unemployment tax is due, with --year: Ohio, or OH.")
@click.option("--tax", multiple=True, help=_TAX)
@click.option("--insurance", multiple=True, help=_INSURANCE)
@click.option("--leave", metavar="HR", help="Of the paid hours: holidays, vacation, sick days.")
@click.option("--breaks", metavar="MIN", help="Paid breaks of a day.")
@click.option("--shift", metavar="HR", help="Paid hours of a day; 8 if left out.")
@click.option("--working-minutes", metavar="MIN", help="Of an hour between breaks; 60 if left out.")
@_json_option
def burden(
    wage: str, hours: str, overtime: str | None, paid_before: str | None, *,
    cash_fringe: str | None, plan: str | None, year: int | None, state: str | None,
    tax: Sequence[str], insurance: Sequence[str],
    leave: str | None, breaks: str | None, shift: str | None, working_minutes: str | None,
    as_json: bool,
) -> None:  # fmt: skip
    """Work out what a paid hour costs, and, with leave and breaks, a productive one.

    Get the rates of taxes and insurance from your payroll adviser, your insurer and your state. A
    --tax takes the place of its namesake of the --year.
    """
    from api.calculations.labor import labor as labor_cost
    from api.calculations.labor_shapes import HiredLabor, LaborAnswer
    from api.commands.labor_shown import show_labor
    from estimator.errors import LaborFaulty

    time_off = stated_options(
        leave_hours=leave, break_minutes_per_day=breaks, shift_hours=shift,
        working_minutes_per_hr=working_minutes,
    )  # fmt: skip
    body = stated_options(
        wage=stated_options(
            wage_per_hr=wage, cash_fringe_per_hr=cash_fringe, plan_fringe_per_hr=plan
        ),
        straight_hours=hours,
        overtime_hours=overtime,
        paid_before=paid_before,
        tax_year=year,
        state=state,
        taxes=[colon_words(one, _TAX, _TAX_FORMS) for one in tax],
        insurance=[colon_words(one, _INSURANCE, _INSURANCE_FORMS) for one in insurance],
        time_off=time_off or None,
    )
    result = calculated(labor_cost, HiredLabor, body, LaborFaulty)
    print_result(result, LaborAnswer(), show_labor, as_json=as_json)


@labor.command()
@click.option("--worked", multiple=True, required=True, help=_WORKED)
@click.option("--bonus", metavar="$", help="Promised for the week: part of the regular rate.")
@click.option("--cash-fringe", metavar="$/HR", help="Paid in cash in place of a benefit plan.")
@_json_option
def week(
    worked: Sequence[str], bonus: str | None, cash_fringe: str | None, *, as_json: bool
) -> None:
    """Work out what a workweek pays, with overtime at the regular rate (29 CFR 778)."""
    from api.calculations.overtime import overtime
    from api.calculations.overtime_shapes import OvertimeAnswer, Workweek
    from api.commands.labor_shown import show_week
    from estimator.errors import LaborFaulty

    body = stated_options(
        worked=[colon_words(one, _WORKED, (("hours", "rate_per_hr"),)) for one in worked],
        bonus=bonus,
        cash_fringe_per_hr=cash_fringe,
    )
    result = calculated(overtime, Workweek, body, LaborFaulty)
    print_result(result, OvertimeAnswer(), show_week, as_json=as_json)


@labor.command()
@click.option("--salary", required=True, metavar="$", help="Of a pay period.")
@click.option("--periods", type=int, default=52, help="In a year: 52, 26, 24 or 12 for months.")
@click.option("--covers", required=True, metavar="HR", help="Hours of a week that it is meant for.")
@click.option("--hours", required=True, metavar="HR", help="Worked this week.")
@_json_option
def salary(salary: str, periods: int, covers: str, hours: str, *, as_json: bool) -> None:
    """Work out what a workweek on a salary pays (29 CFR 778.113)."""
    from api.calculations.overtime import salary as salary_pay
    from api.calculations.overtime_shapes import OvertimeAnswer, SalariedWeek
    from api.commands.labor_shown import show_week
    from estimator.errors import LaborFaulty

    body = {"salary": salary, "periods_per_year": periods, "salary_hours": covers, "hours": hours}
    result = calculated(salary_pay, SalariedWeek, body, LaborFaulty)
    print_result(result, OvertimeAnswer(), show_week, as_json=as_json)


@labor.command()
@click.option("--bonus", required=True, metavar="$", help="Promised for the weeks together.")
@click.option("--hours", multiple=True, required=True, metavar="HR", help="Of each of the weeks.")
@_json_option
def bonus(bonus: str, hours: Sequence[str], *, as_json: bool) -> None:
    """Work out the overtime that a bonus for several weeks brings (29 CFR 778.209)."""
    from api.calculations.overtime import bonus as bonus_cost
    from api.calculations.overtime_shapes import BonusAnswer, LateBonus
    from api.commands.labor_shown import show_bonus
    from estimator.errors import LaborFaulty

    body = {"bonus": bonus, "week_hours": list(hours)}
    result = calculated(bonus_cost, LateBonus, body, LaborFaulty)
    print_result(result, BonusAnswer(), lambda one: show_bonus(one, len(hours)), as_json=as_json)
