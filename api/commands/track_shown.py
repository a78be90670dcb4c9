"""The books on the terminal: each code on a line, sums by phase, what needs attention first."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from api.commands.outlook_shown import show_outlook
from api.commands.printing import hanging, page, sentences, show_table, table
from api.commands.track_tables import (
    show_earned,
    show_job_kinds,
    show_kinds,
    show_orders,
    show_rents,
    show_stock,
)
from estimator.errors import LedgerFaulty, did_you_mean, fault, quoted
from estimator.money import cents_money, whole_half_up
from estimator.quantity.units import counted
from estimator.tracking.budget import CONTINGENCY
from estimator.tracking.forecast import at_budgeted_cost, by_both_indexes, by_cost_index
from estimator.tracking.status import NOT_MEASURED, PERCENT

# Name of a phase that the estimate lacks; of what stands in no phase.
_OTHER = ("not in the estimate", "Markups")
_MOST_SENTENCES = 10
_PERCENT_SIGN = "%"

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rich.console import Console

    from estimator.tracking.earned_value import Performance
    from estimator.tracking.job_outlook import Outlook
    from estimator.tracking.job_track import Track
    from estimator.tracking.status import CodeStatus, Total


def show_track(name: str, report: Track, ahead: Outlook, *, with_all: bool) -> None:
    """Print where a job stands."""
    with page() as out:
        out.print(f"{name}, as of {report.as_of}")
        _show_attention(out, report, with_all=with_all)
        _show_codes(out, report, with_all=with_all)
        _show_phases(out, report, with_all=with_all)
        show_job_kinds(out, report)
        show_earned(out, _earned_by_phase_and_kind(report, with_all=with_all))
        show_orders(out, report)
        show_stock(out, report)
        show_rents(out, report)
        _show_whole(out, report)
        show_outlook(out, ahead, {one.code: one.name for one in report.status.by_phase()})


def show_code(name: str, report: Track, ahead: Outlook, code: str) -> None:
    """Print where one cost code stands, kind by kind.

    Raises
    ------
    LedgerFaulty
        If there is no such code.
    """
    codes = {one.code: one for one in report.status.codes}
    if code not in codes:
        what = f"there is no cost code {quoted(code)}"
        raise fault(LedgerFaulty, what, did_you_mean(code, codes))
    one = codes[code]
    with page() as out:
        out.print(f"{name}, {one.code} {one.name}, as of {report.as_of}\n")
        show_kinds(out, one.kinds)
        show_earned(out, one.performance_by_kind.items(), in_cents=True)
        out.print("")
        for label, text in _figures(report, one):
            out.print(f"{label:<28}{text:>20}")
        for label, text in (*_delivered(ahead, code), *_hours(ahead, code)):
            out.print(f"{label:<28}{text:>20}")
        if kinds := ", ".join(report.left_out_kinds(one)):
            hanging(out, "", "", f"Not in the forecast, because none has come yet: {kinds}.")
        for finish in ahead.finishes:
            if finish.code == code:
                hanging(out, "", "", f"{finish.sentence}.")


def _show_attention(out: Console, report: Track, *, with_all: bool) -> None:
    """Print what needs attention, the worst of it unless all is wanted."""
    shown = report.attention if with_all else report.attention[:_MOST_SENTENCES]
    sentences(out, "What needs attention", [one.sentence for one in shown])
    if len(shown) < len(report.attention):
        out.print(f"and {len(report.attention) - len(shown)} more (--all shows them)")


def _show_codes(out: Console, report: Track, *, with_all: bool) -> None:
    """Print the codes on which something happened, or all, in whole dollars."""
    shown = table(
        ("Code", "code"), ("Work", "text"), ("Budget", "number"), ("Incurred", "number"),
        ("In\nplace", "number"), ("Forecast", "number"),
    )  # fmt: skip
    quiet = [one for one in report.status.codes if not _has_moved(one)]
    for one in report.status.codes:
        if with_all or one not in quiet:
            shown.add_row(
                *_named(one), _dollars(one.budget_cents),
                _dollars(one.spent.incurred_cents), _in_place(one),
                _dollars(report.forecast_cents(one)),
            )  # fmt: skip
    out.print("\nBy cost code, in whole dollars")
    show_table(out, shown)
    _say_left_out(out, report)
    if quiet and not with_all:
        _say_quiet(out, "code", quiet)


def _say_left_out(out: Console, report: Track) -> None:
    """Print the kinds of cost that forecasts leave out, of all codes: none of them has come yet."""
    kinds = [(one.code, ", ".join(report.left_out_kinds(one))) for one in report.status.codes]
    listed = "; ".join(f"{code} {own}" for code, own in kinds if own)
    if listed:
        hanging(out, "", "  ", f"Not in the forecast, because none has come yet: {listed}.")


def _say_quiet(out: Console, what: str, quiet: Sequence[CodeStatus | Total]) -> None:
    """Print how many rows are left out because nothing has happened, and what they may cost."""
    budget = cents_money(sum(one.budget_cents for one in quiet))
    rows, their, them = (
        (f"1 other {what}", "its", "it")
        if len(quiet) == 1
        else (f"{len(quiet)} other {what}s", "their", "them")
    )
    words = f"Nothing has happened on {rows}; {their} budget is {budget} (--all shows {them})."
    hanging(out, "", "  ", words)


def _named(code: CodeStatus) -> tuple[str, str]:
    """Return code and name; a markup's long code stands with its name, where it wraps."""
    return (code.code, code.name) if code.phase else ("", f"{code.name} ({code.code})")


def _has_moved(code: CodeStatus) -> bool:
    spent = code.spent
    return bool(
        code.quantity or code.committed_cents or code.change_cents
        or spent.billed_cents or spent.accrued_cents or spent.paid_cents
    )  # fmt: skip


def _dollars(cents: int) -> str:
    return f"{whole_half_up(Fraction(cents, 100)):,}"


def _in_place(code: CodeStatus) -> str:
    if code.how_earned == NOT_MEASURED:
        return "-"
    if code.how_earned == PERCENT:
        return f"{code.quantity:f} %"
    if not code.expected:
        return "-"
    return f"{code.percent:.0f} %"


def _show_phases(out: Console, report: Track, *, with_all: bool) -> None:
    """Print markups and the phases on which something happened, or all, in whole dollars."""
    shown = table(
        ("Phase", "code"), ("Work", "text"), ("Budget", "number"), ("Incurred", "number"),
        ("Paid", "number"), ("Open", "number"), ("Forecast", "number"),
    )  # fmt: skip
    quiet = []
    for phase in report.status.by_phase():
        codes = [one for one in report.status.codes if one.phase == phase.code]
        if with_all or not phase.code or any(map(_has_moved, codes)):
            cents = (
                phase.budget_cents, phase.spent.incurred_cents, phase.spent.paid_cents,
                phase.spent.open_cents, sum(map(report.forecast_cents, codes)),
            )  # fmt: skip
            shown.add_row(phase.code, phase.name or _OTHER[not phase.code], *map(_dollars, cents))
        else:
            quiet.append(phase)
    out.print("\nBy phase, in whole dollars")
    show_table(out, shown)
    if quiet:
        _say_quiet(out, "phase", quiet)


def _earned_by_phase_and_kind(
    report: Track, *, with_all: bool
) -> Iterator[tuple[str, Performance]]:
    """Yield phases and kinds of which something is planned, earned or incurred, or all."""
    phases = [(one.code or _OTHER[1], one.performance) for one in report.status.by_phase()]
    for name, one in (*phases, *report.status.performance_by_kind().items()):
        if with_all or one.planned_cents or one.earned_cents or one.incurred_cents:
            yield name, one


def _show_whole(out: Console, report: Track) -> None:
    whole = report.status.whole()
    forecast = sum(report.forecast_cents(one) for one in report.status.codes)
    spent, performance = whole.spent, whole.performance
    working = [one for one in report.status.codes if one.code != CONTINGENCY]
    lines = [
        ("Budget as accepted", cents_money(whole.baseline_cents)),
        ("Approved changes", cents_money(whole.budget_cents - whole.baseline_cents)),
        ("Budget", cents_money(whole.budget_cents)),
        ("On order, with tax", cents_money(whole.committed_cents)),
        ("Billed", cents_money(spent.billed_cents)),
        ("Accrued, not yet billed", cents_money(spent.accrued_cents)),
        ("  of it hours not closed", cents_money(report.unclosed.cents)),
        ("Incurred", cents_money(spent.incurred_cents)),
        ("Paid", cents_money(spent.paid_cents)),
        ("Open", cents_money(spent.open_cents)),
        ("Owner's hours, no cash", cents_money(report.unpaid.cents)),
        ("Money that came in", cents_money(report.receipt_cents)),
        *_earned(performance),
        ("Forecast at completion", cents_money(forecast)),
        ("Without the contingency", cents_money(sum(map(report.forecast_cents, working)))),
        *_by_index(performance),
    ]
    out.print("\nThe whole job")
    for label, text in lines:
        out.print(f"{label:<28}{text:>20}")
    if report.lost:
        hours = ", ".join(f"{own:f} hr {reason}" for reason, own in report.lost.items())
        hanging(out, "", "  ", f"Hours lost, in no figure above: {hours}")


def _figures(report: Track, code: CodeStatus) -> Iterator[tuple[str, str]]:
    performance = code.performance
    yield "Budget", cents_money(code.budget_cents)
    yield "Incurred", cents_money(code.spent.incurred_cents)
    if code.unused_cents:
        yield "  of it not used yet", cents_money(code.unused_cents)
    yield "In place", _quantity(code.quantity, code.unit)
    if seen := report.inspected.get(code.code):
        unit = _PERCENT_SIGN if seen.is_percent else code.unit
        yield "  as the inspector saw it", _quantity(seen.quantity, unit)
    yield "Budgeted quantity", _quantity(code.budget_quantity, code.unit)
    yield "Expected at the end", _quantity(code.expected, code.unit)
    for words, cents in (
        ("Cost per unit in place", code.cost_per_unit_cents),
        ("Cost per unit as budgeted", code.budget_per_unit_cents),
    ):
        if cents is not None:
            yield words, cents_money(cents)
    yield from _earned(performance)
    yield "Forecast at completion", cents_money(report.forecast_cents(code))
    yield from _by_index(performance)


def _earned(performance: Performance) -> Iterator[tuple[str, str]]:
    yield "Planned value", cents_money(performance.planned_cents)
    yield "Earned value", cents_money(performance.earned_cents)
    yield "Cost variance", cents_money(performance.cost_variance_cents)
    yield "Schedule variance", cents_money(performance.schedule_variance_cents)
    yield "Cost performance index", str(performance.cost_index)
    yield "Schedule performance index", str(performance.schedule_index)


def _by_index(performance: Performance) -> Iterator[tuple[str, str]]:
    """Yield what the published methods come to, beside the forecast by what is left."""
    yield "  rest as budgeted", cents_money(at_budgeted_cost(performance))
    for words, cents in (
        ("  budget over cost index", by_cost_index(performance)),
        ("  over both indexes", by_both_indexes(performance)),
    ):
        yield words, "undefined" if cents is None else cents_money(cents)


def _delivered(ahead: Outlook, code: str) -> Iterator[tuple[str, str]]:
    """Yield the loads of a code, how long trucks were hired and how long of that they waited."""
    for one in ahead.delivered:
        if one.code == code:
            words = f"Delivered, {counted(str(one.loads), 'load')}"
            yield words, counted(f"{one.quantity:,f}", one.unit)
            yield _truck_hours("hired, in to out", one.timed, one.minutes)
            yield _truck_hours("waiting, by ticket", one.with_waiting, one.waited)


def _truck_hours(words: str, loads: int, minutes: int) -> tuple[str, str]:
    """Return the hours of trucks, of so many loads whose tickets say it."""
    if not loads:
        return f"  {words}", "not known"
    return f"  {words}, {counted(str(loads), 'load')}", f"{Decimal(minutes) / 60:.2f} hr"


def _hours(ahead: Outlook, code: str) -> Iterator[tuple[str, str]]:
    """Yield the hours of a code, and those of a unit beside the estimate's."""
    for one in ahead.hours:
        if one.code == code:
            yield "Hours logged", counted(f"{one.hours.normalize():,f}", "hr")
            each = (("in place", one.per_unit), ("as estimated", one.planned_per_unit))
            for words, hours in each:
                if hours is not None:
                    yield f"Hours per {one.unit} {words}", f"{hours:,.4f} hr"


def _quantity(quantity: Decimal, unit: str) -> str:
    return counted(f"{quantity:,f}", unit).rstrip()
