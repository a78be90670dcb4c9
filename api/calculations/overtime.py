"""Overtime: what a workweek pays by the regular rate, at several rates and with a bonus."""

from __future__ import annotations

from typing import Any

from api.calculations.overtime_shapes import Workweek
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
