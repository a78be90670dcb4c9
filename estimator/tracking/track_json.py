"""What the books say as JSON: sums as decimal texts, indexes as text, `undefined` where so."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from estimator.money import cents_text, exact_arithmetic, rounded
from estimator.tracking.commitments import OrderStand
from estimator.tracking.earned_value import Performance
from estimator.tracking.forecast import Rest, at_budgeted_cost, by_both_indexes, by_cost_index
from estimator.tracking.job_track import Track
from estimator.tracking.kind_status import KindStatus
from estimator.tracking.machine_log import RentStand
from estimator.tracking.machines_on_rent import next_call_off
from estimator.tracking.own_stock import Stock
from estimator.tracking.payroll_week import Worked
from estimator.tracking.progress import InPlace
from estimator.tracking.spent import Spent
from estimator.tracking.status import CodeStatus, Total


@exact_arithmetic
def track_fields(track: Track) -> dict[str, Any]:
    """Return what the books say on a day, as `docs/tracking.md` describes it."""
    whole = track.status.whole()
    return {
        "as_of": track.as_of.isoformat(),
        "known_on": track.known_on.isoformat(),
        "since": None if track.since is None else track.since.isoformat(),
        "project": _total(whole) | {"forecast": cents_text(_forecast(track))},
        "receipts": cents_text(track.receipt_cents),
        "accrued_hours": _worked(track.unclosed),
        "unpaid_hours": _worked(track.unpaid),
        "phases": [
            _total(one) | {"phase": one.code, "name": one.name} for one in track.status.by_phase()
        ],
        "kinds": _kinds(track.status.by_kind(), track.status.performance_by_kind()),
        "codes": [_code(track, one) for one in track.status.codes],
        "stock": {material: _stock(one) for material, one in track.stock.items()},
        "orders": {number: _order(one) for number, one in track.orders.items()},
        "rents": [_rent(one, track.as_of) for one in track.rents],
        "machines": {
            name: {"run": _number(own.run), "standing": _number(own.standing)}
            for name, own in track.machines.items()
        },
        "lost_hours": {reason: _number(hours) for reason, hours in track.lost.items()},
        "attention": [
            {"amount": cents_text(one.cents), "code": one.code, "sentence": one.sentence}
            for one in track.attention
        ],
    }


def _forecast(track: Track) -> int:
    return sum(track.forecast_cents(one) for one in track.status.codes)


def _code(track: Track, code: CodeStatus) -> dict[str, Any]:
    rest = track.rests.get(code.code)
    return {
        "code": code.code,
        "name": code.name,
        "phase": code.phase,
        **_money(code.baseline_cents, code.budget_cents, code.committed_cents, code.spent),
        "unit": code.unit,
        "budget_quantity": _number(code.budget_quantity),
        "in_place": _number(code.quantity),
        "expected": _number(code.expected),
        "percent": str(rounded(code.percent, 1)),
        "inspector": _inspected(track.inspected.get(code.code)),
        "cost_per_unit": _optional(code.cost_per_unit_cents),
        "budget_per_unit": _optional(code.budget_per_unit_cents),
        "how_earned": code.how_earned,
        **_earned(code.performance),
        "kinds": _kinds(code.kinds, code.performance_by_kind),
        "left": None if rest is None else _rest(rest),
        "forecast": cents_text(track.forecast_cents(code)),
        "not_used_yet": cents_text(code.unused_cents),
        "kinds_without_cost": list(code.kinds_without_cost),
        "not_in_forecast": list(track.left_out_kinds(code)),
    }


def _kinds(
    kinds: Mapping[str, KindStatus], performances: Mapping[str, Performance]
) -> dict[str, Any]:
    return {
        kind: _money(one.baseline_cents, one.budget_cents, one.committed_cents, one.spent)
        | _performance(performances[kind])
        for kind, one in kinds.items()
    }


def _inspected(seen: InPlace | None) -> dict[str, Any] | None:
    if seen is None:
        return None
    return {
        "in_place": _number(seen.quantity),
        "is_percent": seen.is_percent,
        "on": seen.measured_on.isoformat(),
    }


def _optional(cents: int | None) -> str | None:
    return None if cents is None else cents_text(cents)


def _total(total: Total) -> dict[str, Any]:
    money: dict[str, Any] = _money(
        total.baseline_cents, total.budget_cents, total.committed_cents, total.spent
    )
    return money | _earned(total.performance)


def _money(baseline: int, budget: int, committed: int, spent: Spent) -> dict[str, str]:
    return {
        "baseline": cents_text(baseline),
        "changes": cents_text(budget - baseline),
        "budget": cents_text(budget),
        "committed": cents_text(committed),
        **_spent(spent),
    }


def _spent(spent: Spent) -> dict[str, str]:
    return {
        "billed": cents_text(spent.billed_cents),
        "accrued": cents_text(spent.accrued_cents),
        "incurred": cents_text(spent.incurred_cents),
        "paid": cents_text(spent.paid_cents),
        "open": cents_text(spent.open_cents),
    }


def _earned(performance: Performance) -> dict[str, str | None]:
    return _performance(performance) | {
        "at_budgeted_cost": cents_text(at_budgeted_cost(performance)),
        "at_cost_index": _optional(by_cost_index(performance)),
        "at_cost_and_schedule_index": _optional(by_both_indexes(performance)),
    }


def _performance(performance: Performance) -> dict[str, str | None]:
    return {
        "planned_value": cents_text(performance.planned_cents),
        "earned_value": cents_text(performance.earned_cents),
        "cost_variance": cents_text(performance.cost_variance_cents),
        "schedule_variance": cents_text(performance.schedule_variance_cents),
        "cost_index": str(performance.cost_index),
        "schedule_index": str(performance.schedule_index),
    }


def _rest(rest: Rest) -> dict[str, Any]:
    return {
        "quantity": _number(rest.quantity),
        "amount": cents_text(rest.cents),
        "kinds": {
            kind: {"amount": cents_text(cents), "basis": rest.basis_by_kind[kind]}
            for kind, cents in rest.cents_by_kind.items()
        },
    }


def _order(stand: OrderStand) -> Mapping[str, str]:
    code, kind = stand.place
    return {
        "vendor": stand.vendor,
        "code": code,
        "kind": kind,
        "committed": cents_text(stand.committed_cents),
        "billed": cents_text(stand.billed_cents),
        "left": cents_text(stand.left_cents),
        "over_billed": cents_text(stand.over_billed_cents),
        "open": cents_text(stand.open_cents),
        "retainage": cents_text(stand.retainage_cents),
    }


def _stock(own: Stock) -> dict[str, str]:
    return {
        "unit": own.unit,
        "recovered": _number(own.recovered),
        "had": _number(own.had),
        "used": _number(own.used),
        "sold": _number(own.sold),
        "left": _number(own.left),
    }


def _rent(stand: RentStand, as_of: date) -> dict[str, Any]:
    rent = stand.rent
    step = next_call_off(rent, as_of)
    return {
        "row": rent.row,
        "machine": rent.machine,
        "vendor": rent.vendor,
        "code": rent.code,
        "since": rent.happened.isoformat(),
        "called_off": None if rent.called_off is None else rent.called_off.isoformat(),
        "same_through": None if step is None else step.last_day.isoformat(),
        "then": None if step is None else cents_text(step.cents_then),
        "so_far": cents_text(stand.cents),
        "accrued": cents_text(stand.accrued_cents),
        "billed_through": None if stand.through is None else stand.through.isoformat(),
    }


def _worked(worked: Worked) -> dict[str, str]:
    return {"hours": _number(worked.hours.normalize()), "amount": cents_text(worked.cents)}


def _number(number: Decimal) -> str:
    return f"{number:f}"
