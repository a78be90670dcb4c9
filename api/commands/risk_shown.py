"""How sure an estimate is, on the terminal: totals, contingency, drivers, dates."""

from __future__ import annotations

from typing import TYPE_CHECKING

from api.commands.printing import hanging, sentences, show_table, table
from estimator.errors import how_many
from estimator.money import dollars
from estimator.quantity.rounding import percent_text

if TYPE_CHECKING:
    from rich.console import Console

    from estimator.studies.risk.job_risk import JobRisk

MOST_DRIVERS = 12
WHOLE_JOB = "whole job"
_BAR = 24


def show_risk(out: Console, risk: JobRisk) -> None:
    """Print how sure an estimate is."""
    out.print("\nCost range, contingency and dates")
    _show_totals(out, risk)
    _show_contingency(out, risk)
    _show_drivers(out, risk)
    _show_dates(out, risk)
    sentences(out, "Assumptions behind these numbers", risk.statements)


def _show_totals(out: Console, risk: JobRisk) -> None:
    totals = risk.totals
    shown = table(
        ("Chance of staying within", "text"), ("Total $", "number"), ("Above base $", "number")
    )
    rows = [(f"P{share * 100:.0f}", cents) for share, cents in totals.percentiles().items()]
    rows += [("Mean", totals.mean_cents)]
    for name, cents in rows:
        shown.add_row(name, _amount(cents), _amount(cents - totals.estimate_cents))
    out.print()
    show_table(out, shown)
    words = f"Base: the estimate without contingency, ${_amount(totals.estimate_cents)}."
    out.print()
    hanging(out, "", "", words)


def _show_contingency(out: Console, risk: JobRisk) -> None:
    needed = risk.needed
    out.print()
    hanging(out, "", "", needed.statement)
    names = {phase.code: phase.name for phase in risk.estimate.scope.phases}
    shown = table(
        ("Phase", "code"), ("", "text"), ("Estimate $", "number"), ("Contingency $", "number"),
        ("If set\nseparately $", "number"),
    )  # fmt: skip
    estimates = dict(zip(risk.totals.phases, risk.totals.phase_estimates, strict=True))
    for code, amount in needed.by_phase.items():
        shown.add_row(
            code,
            names.get(code, WHOLE_JOB),
            _amount(estimates[code]),
            _amount(amount),
            _amount(needed.alone_by_phase[code]),
        )
    alone = sum(needed.alone_by_phase.values())
    shown.add_row(
        "", "Total", _amount(risk.totals.estimate_cents), _amount(needed.amount_cents),
        _amount(alone), style="bold",
    )  # fmt: skip
    out.print()
    show_table(out, shown)


def _show_drivers(out: Console, risk: JobRisk) -> None:
    if not risk.drivers:
        return
    shown = table(("Where the spread comes from", "text"), ("Share", "number"), ("", "code"))
    largest = max(abs(one.share) for one in risk.drivers)
    for one in risk.drivers[:MOST_DRIVERS]:
        bar = "#" * round(_BAR * abs(one.share) / largest)
        shown.add_row(one.name, percent_text(one.share, 1), f"{bar:<{_BAR}}")
    rest = sum(one.share for one in risk.drivers[MOST_DRIVERS:])
    if len(risk.drivers) > MOST_DRIVERS:
        others = how_many(len(risk.drivers) - MOST_DRIVERS, "other")
        shown.add_row(others, percent_text(rest, 1), "")
    out.print()
    show_table(out, shown)


def _show_dates(out: Console, risk: JobRisk) -> None:
    dates, names = risk.dates, {phase.code: phase.name for phase in risk.estimate.scope.phases}
    shown = table(
        ("Phase", "code"), ("", "text"), ("Days", "number"), ("50 % by", "number"),
        ("80 % by", "number"), ("Critical", "number"),
    )  # fmt: skip
    for phase in dates.phases:
        shown.add_row(
            phase.code,
            names[phase.code],
            f"{phase.days.likely:,.1f}",
            *(_day(risk, share, phase.code) for share in (0.5, 0.8)),
            percent_text(dates.criticality[phase.code]),
        )
    out.print()
    show_table(out, shown)
    hanging(
        out, "", "",
        f"\nStarting {risk.start}: 50 % chance to finish by {risk.finish(0.5)}, 80 % by "
        f"{risk.finish(0.8)}; {dates.likely.finish_days:,.1f} working days if every phase takes "
        "its likely time.",
    )  # fmt: skip


def _day(risk: JobRisk, share: float, phase: str) -> str:
    return risk.dates.percentile_date(share, risk.calendar, risk.start, phase).isoformat()


def _amount(cents: int) -> str:
    return f"{dollars(cents):,.2f}"
