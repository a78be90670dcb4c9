"""Overtime: what a workweek pays by the regular rate, at several rates and with a bonus."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from api.contract.places import ROOT, faults_at, pointer


def overtime(asked: Mapping[str, Any]) -> dict[str, Any]:
    """Return the pay of a week.

    Parameters
    ----------
    asked : mapping
        `worked` (hours and rates), `bonus` and `cash_fringe_per_hr`.

    Raises
    ------
    LaborFaulty
        If the week has too many hours, or pay without hours.
    """
    from estimator.rates.labor.overtime import HoursAtRate, week_pay

    with faults_at(pointer("worked")):
        worked = [HoursAtRate(**one) for one in asked["worked"]]
    with faults_at(ROOT, asked):
        found = week_pay(worked, asked["bonus"], asked["cash_fringe_per_hr"])
    return {**vars(found), "total": found.total}
