"""The day sheet to print for the clipboard: what is in work, and blanks to fill in by hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from textwrap import wrap
from typing import TYPE_CHECKING

from estimator.quantity.units import counted
from estimator.tracking.books import Books
from estimator.tracking.budget import Budget
from estimator.tracking.job_track import Track
from estimator.tracking.planned_dates import with_planned_dates
from estimator.tracking.quantities import measures_of
from estimator.tracking.status import CodeStatus

if TYPE_CHECKING:
    from estimator.pricing.estimate import CautionNote

_WIDTH = 80
RECENT = timedelta(7)
_HOURS_LINES, _TICKET_LINES, _MACHINE_LINES, _FREE_LINES = 6, 4, 2, 2
_NAME, _PLACE, _EXPECTED = 34, 14, 14


@dataclass(frozen=True)
class DayPlan:
    """What a day is planned to be.

    Parameters
    ----------
    day : date
        The day.
    codes : tuple of CodeStatus
        Items in work: planned for the day or worked on in the week before, and not done.
    machines : tuple of str
        On rent that day.
    cautions : tuple of CautionNote
        Those of these items.
    """

    day: date
    codes: tuple[CodeStatus, ...]
    machines: tuple[str, ...]
    cautions: tuple[CautionNote, ...]


def plan_of_day(
    books: Books, track: Track, baseline: Budget, cautions: Iterable[CautionNote], day: date
) -> DayPlan:
    """Return what is in work on a day.

    Parameters
    ----------
    books : Books
        All rows of the project.
    track : Track
        Where the job stands; its day and time of entry hold.
    baseline : mapping of str to BudgetCode
        The accepted estimate.
    cautions : iterable of CautionNote
        Of the accepted estimate.
    day : date
        May lie ahead.
    """
    known = books.known(track.as_of, track.known_on)
    working = _working(known, baseline, day)
    codes = tuple(
        one for one in track.status.codes if one.phase and one.code in working and not _is_done(one)
    )
    names = {one.code for one in codes}
    machines = [
        f"{one.rent.machine}, {one.rent.vendor}"
        for one in track.rents
        if one.rent.happened <= day and (one.rent.called_off is None or one.rent.called_off >= day)
    ]
    own = tuple(one for one in cautions if names & {*one.items})
    return DayPlan(day, codes, tuple(machines), own)


def _is_done(code: CodeStatus) -> bool:
    return bool(code.expected) and code.quantity >= code.expected


def _working(known: Books, baseline: Budget, day: date) -> set[str]:
    """Return the codes that are planned for a day, or were worked on in the week before it."""
    dated = with_planned_dates(baseline, known.plans).values()
    working = {
        one.code for one in dated if one.start and one.finish and one.start <= day <= one.finish
    }
    worked = (known.hours, known.progress, known.tickets, known.machine_hours)
    for rows in worked:
        working |= {one.code for one in rows if day - RECENT <= one.happened <= day}
    return working


def day_sheet_page(plan: DayPlan, name: str) -> str:
    """Return the page as plain text, 80 letters wide.

    Parameters
    ----------
    plan : DayPlan
        See `plan_of_day`.
    name : str
        Of the project.
    """
    title = f"Day sheet, {plan.day:%A} {plan.day}"
    lines = [f"{name[: _WIDTH - len(title) - 2]:<{_WIDTH - len(title)}}{title}", ""]
    lines += _blanks("Weather", "Temperature (F)")
    lines += [*_blanks("Here (initials)"), *_blanks("Visitors"), ""]
    lines += [*_items(plan.codes), "Hours"]
    lines += _HOURS_LINES * _blanks("Person", "Code", "Hours", "Code", "Hours")
    lines += ["", "Tickets"]
    lines += _TICKET_LINES * _blanks("No.", "Vendor", "Code", "Quantity", "In", "Out")
    lines += ["", "Machines"]
    for machine in plan.machines:
        lines += wrap(machine, _WIDTH)
        lines += _blanks("  Code", "Hours run", "Standing", "Why")
    lines += _MACHINE_LINES * _blanks("Machine", "Code", "Hours run", "Standing")
    for heading in ("Hours lost, and why", "Found", "Incidents"):
        lines += ["", heading, *_FREE_LINES * ["_" * _WIDTH]]
    return "\n".join(line.rstrip() for line in [*lines, *_cautions(plan.cautions)]) + "\n"


def _blanks(*labels: str) -> list[str]:
    """Return one line of labels, each with room to write, all the room used."""
    room = _WIDTH - sum(map(len, labels)) - (2 * len(labels) - 1)
    each, more = divmod(room, len(labels))
    parts = [f"{label} {'_' * (each + (place < more))}" for place, label in enumerate(labels)]
    return [" ".join(parts)]


def _items(codes: Sequence[CodeStatus]) -> Iterator[str]:
    if not codes:
        yield from ("No item is planned for the day, or was worked on in the week before it.", "")
        return
    heading = f"{'Items in work':<{_NAME}}{'In place':>{_PLACE}}{'Expected':>{_EXPECTED}}"
    yield f"{heading}  Measured today"
    yield "-" * _WIDTH
    for one in codes:
        first, *others = wrap(f"{one.code} {one.name}", _NAME)
        quantity, whole, unit = measures_of(one)
        in_place, expected = _measure(quantity, unit), _measure(whole, unit)
        blank = "_" * (_WIDTH - _NAME - _PLACE - _EXPECTED - 2)
        yield f"{first:<{_NAME}}{in_place:>{_PLACE}}{expected:>{_EXPECTED}}  {blank}"
        yield from others
    yield ""


def _measure(quantity: Decimal, unit: str) -> str:
    return counted(f"{quantity:f}", unit).rstrip()


def _cautions(notes: Sequence[CautionNote]) -> Iterator[str]:
    if notes:
        yield ""
        yield "Cautions"
    for one in notes:
        text = f"{one.caution.caution} Ask: {one.caution.defer_to}."
        yield from wrap(text, _WIDTH, initial_indent="- ", subsequent_indent="  ")
