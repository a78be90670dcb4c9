"""The outlook as JSON: sums as decimal texts, days as dates, null where unknown."""

from __future__ import annotations

from datetime import date
from typing import Any

from estimator.money import cents_text
from estimator.tracking.attention import Attention
from estimator.tracking.dates_done import FinishDate
from estimator.tracking.delivered_loads import Delivered
from estimator.tracking.forecast_ranges import ForecastRange
from estimator.tracking.job_outlook import Outlook
from estimator.tracking.unit_hours import HoursOfCode


def outlook_fields(outlook: Outlook) -> dict[str, Any]:
    """Return where the job is going, as `docs/tracking.md` describes it."""
    return {
        "cost": _cost(outlook.cost),
        "all_done": outlook.all_done,
        "finishes": [_finish(one) for one in outlook.finishes],
        "better_ways": [_attention(one) for one in outlook.better_ways],
        "to_decide": [_attention(one) for one in outlook.to_decide],
        "hours": [_hours(one) for one in outlook.hours],
        "delivered": [_delivered(one) for one in outlook.delivered],
    }


def _attention(one: Attention) -> dict[str, str]:
    return {"amount": cents_text(one.cents), "code": one.code, "sentence": one.sentence}


def _cost(cost: ForecastRange) -> dict[str, Any]:
    return {
        "seed": cost.seed,
        "iterations": cost.iterations,
        "P50": cents_text(cost.p50_cents),
        "P80": cents_text(cost.p80_cents),
        "within_budget": f"{cost.within_budget:.4f}",
        "phases": [
            {"phase": phase, "P50": cents_text(p50), "P80": cents_text(p80)}
            for phase, (p50, p80) in cost.by_phase.items()
        ],
        "statements": list(cost.statements),
    }


def _finish(one: FinishDate) -> dict[str, Any]:
    return {
        "code": one.code,
        "left": f"{one.left:f}",
        "per_day": None if one.pace is None else f"{one.pace.per_day:.4f}",
        "days_worked": 0 if one.pace is None else one.pace.days,
        "work_days": None if one.work_days is None else f"{one.work_days:.2f}",
        "done_by": _day(one.done_by),
        "between": None if one.between is None else [_day(day) for day in one.between],
        "planned": _day(one.planned),
        "sentence": one.sentence,
    }


def _hours(one: HoursOfCode) -> dict[str, Any]:
    return {
        "code": one.code,
        "unit": one.unit,
        "hours": f"{one.hours.normalize():f}",
        "in_place": f"{one.quantity:f}",
        "per_unit": _four_decimals(one.per_unit),
        "planned_per_unit": _four_decimals(one.planned_per_unit),
    }


def _delivered(one: Delivered) -> dict[str, Any]:
    return {
        "code": one.code,
        "kind": one.kind,
        "unit": one.unit,
        "loads": one.loads,
        "quantity": f"{one.quantity:f}",
        "loads_with_times": one.timed,
        "minutes_here": one.minutes,
        "loads_with_waiting": one.with_waiting,
        "minutes_waited": one.waited if one.with_waiting else None,
    }


def _four_decimals(number: float | None) -> str | None:
    return None if number is None else f"{number:.4f}"


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
