"""The dates of a job on the terminal: phases with bars, what is critical, who waits for whom."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from api.commands.printing import hanging, page, sentences, show_table, table
from estimator.money import money_text
from estimator.scope.job_crew import hand_name, hands_text

if TYPE_CHECKING:
    from rich.console import Console

    from estimator.pricing.estimate import Estimate
    from estimator.scheduling.job_dates import Dated, JobSchedule
    from estimator.scheduling.worth_of_one_more import OneMore

_BAR = 20


def show_schedule(
    estimate: Estimate, schedule: JobSchedule, ways: Sequence[OneMore],
    *, with_items: bool, with_cost: bool,
) -> None:  # fmt: skip
    """Print the dates of a job, and what it costs at these dates."""
    from estimator.scheduling.job_bars import assumed_calendar

    project = estimate.scope.project
    with page() as out:
        out.print(
            f"{project}: {schedule.start} to {schedule.finish}, {schedule.days:.1f} working days\n"
        )
        _show_dated(out, schedule, schedule.items if with_items else schedule.phases)
        orders = " with the crews in this order" if schedule.there else ""
        if assumed := assumed_calendar(estimate, schedule):
            hanging(out, "", "", assumed)
        hanging(
            out, "", "", f"Float is how late a line may run without delaying the finish{orders}."
        )
        sentences(out, "What the finish date depends on", [*_chain_sentences(schedule)])
        if schedule.there:
            sentences(out, "With the crews you have", _crew_sentences(schedule, ways))
        if with_cost:
            cash, full = money_text(estimate.cash_cost), money_text(estimate.full_cost)
            out.print()
            hanging(out, "", "", f"With these times: cash cost {cash}, full cost {full}.")


def _chain_sentences(schedule: JobSchedule) -> Iterator[str]:
    """Yield for each phase what of its work the finish date depends on."""
    for phase in schedule.phases:
        work = [one.code for one in schedule.items if one.days and _is_of(one.code, phase.code)]
        critical = [code for code in schedule.chain if _is_of(code, phase.code)]
        if critical:
            whole = phase.code in critical or len(critical) == len(work)
            of_it = "all its work" if whole else ", ".join(critical)
            yield f"{phase.code} {phase.name}: {of_it}"


def _is_of(code: str, phase: str) -> bool:
    return code.partition(".")[0] == phase


def _show_dated(out: Console, schedule: JobSchedule, shown: Sequence[Dated]) -> None:
    rows = table(
        ("", "code"), ("Work", "text"), ("Start", "code"), ("Finish", "code"),
        ("Days", "number"), ("Float", "number"), ("", "code"),
    )  # fmt: skip
    form = "%m-%d" if schedule.start.year == schedule.finish.year else "%Y-%m-%d"
    for one in shown:
        rows.add_row(
            one.code, one.name, f"{one.start:{form}}", f"{one.finish:{form}}", f"{one.days:.1f}",
            _float(one), _bar(schedule, one),
        )  # fmt: skip
    show_table(out, rows)


def _float(one: Dated) -> str:
    """Return how late it may be; what runs along other work has no float of its own."""
    if one.along:
        return ""
    return "-" if one.is_critical else f"{one.float_days:.1f}"


def _bar(schedule: JobSchedule, one: Dated) -> str:
    """Return a line on the scale of the whole job, in the letters of `bar_letters`."""
    from estimator.scheduling.bar_marks import ALONG, CRITICAL, FLOATING

    whole = (schedule.finish - schedule.start).days + 1
    first = (one.start - schedule.start).days * _BAR // whole
    last = ((one.finish - schedule.start).days + 1) * _BAR // whole
    mark = ALONG if one.along else CRITICAL if one.is_critical else FLOATING
    return ("." * first + mark * max(last - first, 1)).ljust(_BAR, ".")[:_BAR]


def _crew_sentences(schedule: JobSchedule, ways: Sequence[OneMore]) -> list[str]:
    lines = [f"the job has {hands_text(schedule.there)}; of others, as many as the work takes"]
    lines += [
        f"{one.code} {one.name} waits for the crew of {', '.join(one.waits_for)}"
        for one in schedule.items
        if one.waits_for
    ]
    later = schedule.days - schedule.path_days
    if later > 0.0:
        lines.append(f"with unlimited crews the work would end {_sooner(later)}")
    if schedule.is_shortest:
        lines.append("no order of this work ends sooner with these crews")
    else:
        lines.append(
            f"the best order found; another might end sooner, none in less than "
            f"{schedule.at_least_days:.1f} days (a gap of {schedule.gap * 100:.1f} %)"
        )
    lines += [_worth(one) for one in ways]
    return lines


def _worth(one: OneMore) -> str:
    """Return what one more is worth; without a proof, only what the best orders found say."""
    name = hand_name(one.resource)
    basis = "" if one.is_proven else " in the best orders found"
    if not one.days:
        return f"one more {name} ends the job no sooner{basis}"
    worth = f", worth ${one.worth:,.2f}" if one.worth else ""
    return f"one more {name} ends the job {_sooner(one.days)}{basis}, on {one.finish}{worth}"


def _sooner(days: float) -> str:
    """Return a gain of any length; of the shortest, that there is one."""
    shown = f"{days:.1f} working days" if days >= 0.05 else "less than 0.1 working day"
    return f"{shown} sooner"
