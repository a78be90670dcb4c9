"""Overtime: what a workweek pays by the regular rate, by the hour, on a salary, with a bonus."""

from __future__ import annotations

from typing import Any

from api.calculations.overtime_shapes import LateBonus, SalariedWeek, Workweek
from api.contract.commands import stated
from api.contract.places import ROOT, faults_at, pointer


def overtime(body: Workweek) -> dict[str, Any]:
    """Return the pay of a week.

    Parameters
    ----------
    body : Workweek
        Hours at each rate, bonus and fringe.

    Raises
    ------
    LaborFaulty
        If the week has too many hours, or pay without hours.
    """
    from estimator.rates.labor.overtime import HoursAtRate, week_pay

    with faults_at(pointer("worked")):
        worked = [HoursAtRate(hours=one.hours, rate_per_hr=one.rate_per_hr) for one in body.worked]
    with faults_at(ROOT, stated(body)):
        pay = week_pay(worked, body.bonus, body.cash_fringe_per_hr)
    return {**vars(pay), "total": pay.total}


def salary(body: SalariedWeek) -> dict[str, Any]:
    """Return the pay of a week on a salary.

    Parameters
    ----------
    body : SalariedWeek
        The salary, what it covers, and the hours worked.

    Raises
    ------
    LaborFaulty
        If the week has too many hours, or the salary covers none.
    """
    from estimator.rates.labor.overtime import salaried_week_pay, weekly_salary

    with faults_at(ROOT, stated(body)):
        weekly = weekly_salary(body.salary, body.periods_per_year)
        pay = salaried_week_pay(weekly, body.salary_hours, body.hours)
    return {**vars(pay), "total": pay.total}


def bonus(body: LateBonus) -> dict[str, Any]:
    """Return the overtime that a bonus for several weeks brings.

    Parameters
    ----------
    body : LateBonus
        The bonus, and the hours of each week.

    Raises
    ------
    LaborFaulty
        If a week has too many hours, or none.
    """
    from estimator.rates.labor.overtime import overtime_on_bonus

    with faults_at(ROOT, stated(body)):
        due = overtime_on_bonus(body.bonus, body.week_hours)
    return {"bonus": body.bonus, "overtime": due, "total": body.bonus + due}
