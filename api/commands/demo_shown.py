"""The whole job of the sample on two screens: priced, scheduled, tracked, drawn, the credit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from api.commands.printing import hanging, page, show_table, table
from estimator.money import cents_money

if TYPE_CHECKING:
    from rich.console import Console

    from api.commands.demo_job import DemoJob
    from estimator.pricing.estimate import Estimate
    from estimator.scheduling.job_dates import JobSchedule

_SENTENCES = 2


def show_job(estimate: Estimate, dates: JobSchedule, job: DemoJob) -> None:
    """Print what each part of the program says of the job, in its order."""
    with page() as out:
        out.print(f"{estimate.scope.project}: the whole job, all of it invented\n")
        out.print(
            f"Priced at the rates of {estimate.on}, scheduled {dates.start} to {dates.finish},\n"
            f"tracked as of {job.report.as_of}:"
        )
        _show_phases(out, dates, job)
        _show_outlook(out, job)
        _show_draws(out, job)
        _show_credit(out, job)


def _show_phases(out: Console, dates: JobSchedule, job: DemoJob) -> None:
    rows = table(
        ("", "code"), ("Phase", "text"), ("Start", "code"), ("Finish", "code"),
        ("Budget", "number"), ("Incurred", "number"), ("Earned", "number"),
    )  # fmt: skip
    when = {one.code: (f"{one.start:%m-%d}", f"{one.finish:%m-%d}") for one in dates.phases}
    status = job.report.status
    named = [(one.code, one.name or "Markups", one) for one in status.by_phase()]
    for code, name, one in (*named, ("", "The whole job", status.whole())):
        sums = (one.budget_cents, one.spent.incurred_cents, one.performance.earned_cents)
        rows.add_row(code, name, *when.get(code, ("", "")), *map(_plain, sums))
    show_table(out, rows)


def _show_outlook(out: Console, job: DemoJob) -> None:
    cost = job.ahead.cost
    out.print()
    hanging(
        out, "", "",
        f"At completion {cents_money(cost.p50_cents)} (P50) or {cents_money(cost.p80_cents)} "
        f"(P80); the chance that the budget is enough is {100 * cost.within_budget:.0f} %. "
        f"{job.ahead.all_done}",
    )  # fmt: skip
    for one in job.report.attention[:_SENTENCES]:
        hanging(out, "- ", "  ", one.sentence)


def _show_draws(out: Console, job: DemoJob) -> None:
    out.print()
    rows = table(
        ("Draw", "code"), ("Through", "code"), ("Done to date", "number"), ("Held", "number"),
        ("Equity", "number"), ("Loan", "number"), ("", "code"),
    )  # fmt: skip
    for one in job.draws:
        request, totals = one.request, one.request.totals
        sums = (request.sum_cents("done_and_stored_cents"), totals.retainage_cents,
                totals.equity_cents, totals.loan_cents)  # fmt: skip
        rows.add_row(str(request.number), str(request.through), *map(_plain, sums), one.state)
    show_table(out, rows)


def _show_credit(out: Console, job: DemoJob) -> None:
    shown, best = job.credit, job.credit.best_window
    facts = shown.facts
    verdict = "passes" if best.passes else "misses"
    out.print()
    hanging(
        out, "", "",
        f"Rehabilitation credit: {cents_money(shown.cents_by_answer['yes'])} counts, the basis is "
        f"{cents_money(facts.basis_cents)}; the best window ({best.start} to {best.end}) {verdict} "
        f"the test by {cents_money(abs(best.over_cents))}. If it is certified, "
        f"{cents_money(shown.credit.credit_cents)} over five years: ask a tax adviser.",
    )  # fmt: skip


def _plain(cents: int) -> str:
    return cents_money(cents).replace("$", "")
