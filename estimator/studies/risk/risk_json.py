"""How sure an estimate is, as plain fields for JSON: described in docs/ranges.md."""

from __future__ import annotations

from typing import Any

from estimator.money import dollars, exact_arithmetic
from estimator.ranges.cost_drivers import Driver
from estimator.ranges.totals import REPORTED_SHARES
from estimator.studies.risk.job_risk import JobRisk

CURVE_POINTS = 51


@exact_arithmetic
def risk_fields(risk: JobRisk) -> dict[str, Any]:
    """Return how sure an estimate is, as dictionaries, lists and strings.

    Money, days and shares are decimal strings; the same risk gives the same fields.
    """
    totals = risk.totals
    return {
        "seed": totals.job.seed,
        "iterations": totals.iterations,
        "confidence": _share(risk.confidence),
        "estimate": _money(totals.estimate_cents),
        "mean": _money(totals.mean_cents),
        "standard_deviation": f"{totals.sd_cents / 100:.2f}",
        "within_estimate": _share(totals.probability_within(totals.estimate_cents)),
        "percentiles": {
            f"P{share * 100:.0f}": _money(cents) for share, cents in totals.percentiles().items()
        },
        "curve": [
            {"total": _money(cents), "chance": _share(share)}
            for cents, share in totals.curve(CURVE_POINTS)
        ],
        "contingency": _contingency(risk),
        "drivers": [_driver(one) for one in risk.drivers],
        "dates": _dates(risk),
        "class": {
            "number": risk.of_class.number,
            "known": _share(risk.known),
            "band": risk.of_class.band,
            "source": risk.of_class.source,
        },
        "statements": list(risk.statements),
    } | _budget(risk)


def _budget(risk: JobRisk) -> dict[str, Any]:
    """Return the budget of one's own and the chance of staying within it, if one is stated."""
    if risk.budget_cents is None or risk.within_budget is None:
        return {}
    return {"budget": {"amount": _money(risk.budget_cents), "within": _share(risk.within_budget)}}


def _money(cents: int) -> str:
    return f"{dollars(cents):f}"


def _share(value: float) -> str:
    return f"{value:.4f}"


def _contingency(risk: JobRisk) -> dict[str, Any]:
    needed = risk.needed
    return {
        "amount": _money(needed.amount_cents),
        "total": _money(needed.percentile_cents),
        "by_phase": {code: _money(cents) for code, cents in needed.by_phase.items()},
        "alone_by_phase": {code: _money(cents) for code, cents in needed.alone_by_phase.items()},
        "statement": needed.statement,
    }


def _driver(one: Driver) -> dict[str, str]:
    return {
        "name": one.name,
        "kind": one.kind,
        "phase": one.phase,
        "share": _share(one.share),
        "estimate": _money(one.estimate_cents),
        "mean": _money(one.mean_cents),
    }


def _dates(risk: JobRisk) -> dict[str, Any]:
    dates = risk.dates
    return {
        "start": risk.start.isoformat(),
        "likely_days": f"{dates.likely.finish_days:.2f}",
        "finish": {
            f"P{share * 100:.0f}": risk.finish(share).isoformat() for share in REPORTED_SHARES
        },
        "phases": [
            {
                "code": phase.code,
                "after": list(phase.after),
                "days": [f"{d:.2f}" for d in (phase.days.low, phase.days.likely, phase.days.high)],
                "likely_finish_day": f"{dates.likely.finishes[phase.code]:.2f}",
                "P50_finish_day": f"{dates.percentile_days(0.5, phase.code):.2f}",
                "P80_finish_day": f"{dates.percentile_days(0.8, phase.code):.2f}",
                "critical": _share(dates.criticality[phase.code]),
            }
            for phase in dates.phases
        ],
    }
