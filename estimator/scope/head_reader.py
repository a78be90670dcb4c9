"""Reading what a scope says before its phases: date, day, markups, calendar, crew, how sure."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from estimator.assemblies.tables import Tables
from estimator.errors import Faults, InputFaulty, did_you_mean, quoted
from estimator.quantity.measures import read_measure
from estimator.quantity.units import unit
from estimator.scope.calendar_reader import CALENDAR, read_calendar
from estimator.scope.input_value import InputValue
from estimator.scope.job_calendar import JobCalendar
from estimator.scope.job_crew import read_job_crew
from estimator.scope.located import Section
from estimator.scope.located_reader import LocatedReader
from estimator.scope.risk_reader import read_job_risk
from estimator.scope.scope import Scope
from estimator.scope.title_block import TITLE_KEYS, TitleBlock

USUAL_SHIFT = InputValue(Fraction(8), "8 hr/day")


class HeadReader(LocatedReader):
    """Reads the keys of a scope above its phases; `shift_given` is the day that they state."""

    def __init__(self, faults: Faults, tables: Tables) -> None:
        super().__init__(faults)
        self.tables = tables
        self.shift_given = USUAL_SHIFT

    def head(self, section: Section) -> Scope:
        """Return the scope without any phase."""
        project = self.text(section, "project")
        calendar = read_calendar(section, self.faults)
        self.shift_given = self.shift(section, calendar)
        scope = Scope(
            project=project,
            shift=self.shift_given,
            on=self.day(section, "on", "a pricing date"),
            markups=self.markups(section),
            assumptions=self.texts(section, "assumptions"),
            phases=(),
            day_worth=self.day_worth(section),
            risk=read_job_risk(section, self.faults),
            calendar=calendar,
            crew=read_job_crew(section, self.tables, self.faults),
            title_block=TitleBlock(
                *(self.text(section, key, required=False) for key in TITLE_KEYS)
            ),
        )
        self.check_start(section, calendar.start, scope.risk.start)
        return scope

    def check_start(self, section: Section, start: date | None, of_risk: date | None) -> None:
        """Note a first day that is stated twice and not the same."""
        if start and of_risk and start != of_risk:
            what = f"the calendar starts on {start}, and risk says {of_risk}"
            self.faults.add(section.entries[CALENDAR].where, what, "say it in the calendar only")

    def shift(self, section: Section, calendar: JobCalendar) -> InputValue:
        """Return the length of the day: that of the week, or the shift, or what is usual."""
        text = self.text(section, "shift", required=False)
        if not text:
            return calendar.shift or USUAL_SHIFT
        try:
            measure = read_measure(text, unit("hr/day"))
        except InputFaulty as error:
            self.faults.take(f"{section.entries['shift'].where}, shift", error)
            return USUAL_SHIFT
        if not 1 <= measure.value * measure.unit.factor <= 24:
            self.faults.add(
                section.entries["shift"].where, f"shift {quoted(text)} is not 1 to 24 hr/day"
            )
        hours = measure.value * measure.unit.factor
        if calendar.shift is not None and calendar.shift.value != hours:
            what = f"shift {quoted(text)} is not the day of the week in the {CALENDAR}"
            self.faults.add(section.entries["shift"].where, what, "take one of them out")
        return InputValue(hours, text)

    def day_worth(self, section: Section) -> InputValue | None:
        """Return what a day sooner is worth, None if nothing is said."""
        measure = self.measured(section, "day_worth", unit("$/day"))
        if measure is None:
            return None
        return InputValue(measure.value * measure.unit.factor, measure.text)

    def markups(self, section: Section) -> tuple[str, ...] | None:
        """Return the codes of the markups that apply, None for all."""
        if "markups" not in section.entries:
            return None
        codes = self.texts(section, "markups")
        for code in codes:
            if code and code not in self.tables.markups:
                self.faults.add(
                    section.entries["markups"].where,
                    f"unknown markup {quoted(code)}",
                    did_you_mean(code, self.tables.markups),
                )
        return codes
