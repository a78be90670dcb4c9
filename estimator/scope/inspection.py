"""Inspections that work waits for or ends with: of what, by whom, after what notice."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from estimator.errors import Faults, did_you_mean, quoted
from estimator.scope.located import Section
from estimator.scope.located_reader import LocatedReader
from estimator.scope.plan_reader import read_wait
from estimator.scope.work_plan import NO_WAIT, Wait

INSPECTIONS = "inspections"
MOST_INSPECTIONS, LONGEST_NOTICE_DAYS = 500, 366
_KEYS = ("name", "by", "before", "after", "notice")


@dataclass(frozen=True)
class Inspection:
    """An inspection, a test or an approval on a day of the schedule.

    Parameters
    ----------
    name : str
        What is looked at: `footing trench and bars`.
    by : str
        Who decides: `building inspector`, `engineer`; empty where nobody is named.
    code : str
        Of the phase or item that waits for it, or that it comes after.
    is_before : bool
        Whether it is held before that work; else after it.
    notice : Wait
        How long before the inspector is called.
    where : str
        Where it stands in the scope.
    """

    name: str
    by: str
    code: str
    is_before: bool
    notice: Wait = NO_WAIT
    where: str = ""


def read_inspections(section: Section, faults: Faults) -> tuple[Inspection, ...]:
    """Return the inspections of a calendar, noting all faults.

    Parameters
    ----------
    section : Section
        The calendar; `inspections: [{name: Footing, by: building inspector, before: "40.020",
        notice: 2 working days}]`.
    faults : Faults
        Where faults are noted.
    """
    return tuple(_InspectionReader(faults).inspections(section))


def check_inspections(
    inspections: Collection[Inspection], codes: Collection[str], faults: Faults
) -> None:
    """Note inspections of work that is not there, and those that are listed twice.

    Parameters
    ----------
    inspections : collection of Inspection
        From `read_inspections`.
    codes : collection of str
        Of all phases and items, those of alternates among them.
    faults : Faults
        Where faults are noted.
    """
    seen: set[tuple[str, str]] = set()
    for one in inspections:
        if one.code and one.code not in codes:
            what = f"inspection {quoted(one.name)} names {quoted(one.code)}, which does not exist"
            alike = [code for code in codes if ("." in code) == ("." in one.code)]
            faults.add(one.where, what, did_you_mean(one.code, alike))
        if (one.name, one.code) in seen:
            faults.add(one.where, f"inspection {quoted(one.name)} of {one.code} is listed twice")
        seen.add((one.name, one.code))


class _InspectionReader(LocatedReader):
    def inspections(self, section: Section) -> Iterator[Inspection]:
        parts = self.parts(section, INSPECTIONS, required=False)
        if len(parts) > MOST_INSPECTIONS:
            what = f"there are more than {MOST_INSPECTIONS} inspections"
            self.faults.add(parts[-1].where, what, "list those that work waits for")
        for part in parts[:MOST_INSPECTIONS]:
            own = self.section(part, "an inspection", _KEYS)
            before, after = (self.text(own, key, required=False) for key in ("before", "after"))
            if bool(before) == bool(after):
                what = "an inspection comes before or after one piece of work"
                self.faults.add(part.where, what, 'write before: "40.020", or after')
            written = own.entries.get("notice")
            notice = NO_WAIT if written is None else read_wait(written, "notice", self.faults)
            if notice.days > LONGEST_NOTICE_DAYS:
                what = f"a notice of {notice.days:g} days is longer than a year"
                self.faults.add(part.where, what, "write 2 working days")
            yield Inspection(
                self.text(own, "name"),
                self.text(own, "by", required=False),
                before or after,
                bool(before),
                notice,
                part.where,
            )
