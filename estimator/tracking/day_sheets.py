"""Day sheets: weather, who was there, what was found, incidents, hours lost and why."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from types import MappingProxyType

from estimator.errors import Faults, LedgerFaulty, quoted
from estimator.tracking.entry_checks import note_day

_HOURS_IN_A_DAY = 24
_COLDEST_F, _HOTTEST_F = Decimal(-80), Decimal(140)  # a little past what was ever measured
_LATE = timedelta(365)


@dataclass(frozen=True)
class LostHours:
    """Hours in which people were there and could not work.

    Parameters
    ----------
    hours : Decimal
        [hr] Of all people together.
    reason : str
        `rain`, `waited for the engineer`.
    """

    hours: Decimal
    reason: str


@dataclass(frozen=True)
class DaySheet:
    """The record of one day on the site.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day; when it was entered [UTC].
    weather : str
        In words.
    temperature_f : Decimal or None
        [deg F] None where nobody wrote it down.
    people : tuple of str
        Initials of who was there.
    visitors, found, incidents : str
        Who came by, what was found, what went wrong; empty where nothing.
    lost : tuple of LostHours
        Hours lost, each with its reason.
    """

    row: int
    happened: date
    entered: datetime
    weather: str = ""
    temperature_f: Decimal | None = None
    people: tuple[str, ...] = ()
    visitors: str = ""
    found: str = ""
    incidents: str = ""
    lost: tuple[LostHours, ...] = ()


def lost_hours(sheets: Iterable[DaySheet]) -> Mapping[str, Decimal]:
    """Return the hours lost by reason [hr], the most first.

    Parameters
    ----------
    sheets : iterable of DaySheet
        As known, in the order of entry: of several of one day, the last counts.

    Notes
    -----
    Reasons are the same without regard to case and blanks; the words of the first stand. Nothing
    else is made of these hours: no cost, no forecast, no date.
    """
    last = {one.happened: one for one in sheets}
    words: dict[str, str] = {}
    hours: dict[str, Decimal] = defaultdict(Decimal)
    for sheet in sorted(last.values(), key=lambda one: one.happened):
        for lost in sheet.lost:
            words.setdefault(_key(lost.reason), lost.reason)
            hours[_key(lost.reason)] += lost.hours
    ordered = sorted(hours, key=lambda key: (-hours[key], key))
    return MappingProxyType({words[key]: hours[key] for key in ordered})


def _key(words: str) -> str:
    return " ".join(words.split()).casefold()


def check_day_sheet(sheet: DaySheet, that_day: Sequence[DaySheet], today: date) -> list[str]:
    """Return what to note about a day sheet that may be posted.

    Parameters
    ----------
    sheet : DaySheet
        As it would be posted.
    that_day : sequence of DaySheet
        Those of the same day that are there already.
    today : date
        By the server's clock.

    Raises
    ------
    LedgerFaulty
        If the day is to come, the sheet says nothing, somebody is named twice, the temperature is
        none, or more hours were lost than the people there had.
    """
    faults = Faults()
    note_day(sheet.happened, today, faults)
    entries = (
        sheet.weather,
        sheet.people,
        sheet.visitors,
        sheet.found,
        sheet.incidents,
        sheet.lost,
    )
    if not any(entries) and sheet.temperature_f is None:
        faults.add("weather", "is missing, and so is all else", "write something about the day")
    _check_people(sheet, faults)
    temperature = sheet.temperature_f
    if temperature is not None and not _COLDEST_F <= temperature <= _HOTTEST_F:
        what = f"{temperature} is not an air temperature in degrees Fahrenheit"
        faults.add("temperature_f", what, f"write {_COLDEST_F} to {_HOTTEST_F}")
    faults.raise_if_any(LedgerFaulty)
    notes = [f"takes the place of row {one.row}, of the same day" for one in that_day[-1:]]
    if today - sheet.happened > _LATE:
        notes.append(f"{sheet.happened} is over a year ago")
    return notes


def _check_people(sheet: DaySheet, faults: Faults) -> None:
    keys = [_key(one) for one in sheet.people]
    for place, key in enumerate(keys):
        if key in keys[:place]:
            faults.add("people", f"{quoted(sheet.people[place])} is listed twice", "once is enough")
    if any(one.hours <= 0 for one in sheet.lost):
        faults.add("lost", "has hours that are not above zero", "leave the reason out")
    most = _HOURS_IN_A_DAY * max(len(sheet.people), 1)
    total = sum((one.hours for one in sheet.lost), Decimal(0))
    if total > most:
        who = f"{len(sheet.people)} people" if len(sheet.people) > 1 else "1 person"
        faults.add(
            "lost", f"{total} hours are lost, and {who} had {most}", "name all who were here"
        )
