"""Reading what a scope states about how sure it is; every fault is noted at its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from estimator.errors import Faults, InputFaulty, quoted
from estimator.quantity.measures import Measure, read_measure, refuse_bare_percent
from estimator.quantity.units import Unit, unit
from estimator.ranges.distributions import (
    Distribution,
    Fixed,
    Pert,
    Triangular,
    Uniform,
)
from estimator.ranges.events import Event
from estimator.scope.correlation_reader import CorrelationReader
from estimator.scope.located import Listing, Located, Section, Text
from estimator.scope.stated_ranges import NOTHING_STATED, JobRiskStated, Spread

RISK = "risk"
DURATION = "duration"
JOB_KEYS = ("quantity", "pace", "correlation", "events", "start", "known")
ITEM_KEYS = ("quantity", "pace")
RANGE_KEYS = ("low", "likely", "high", "shape")
EVENT_KEYS = ("name", "probability", "cost", "days", "phase")
SHAPES = ("triangular", "pert", "uniform")
MOST_EVENTS = 200

_FRACTION, _DOLLAR, _DAY = unit("fraction"), unit("$"), unit("day")
_HUNDRED_PERCENT = Fraction(1)
_TEN_TIMES = Fraction(10)
_NOTHING = Fixed(0.0)


def read_job_risk(section: Section, faults: Faults) -> JobRiskStated:
    """Return what a scope's key `risk` states, noting all faults."""
    if RISK not in section.entries:
        return JobRiskStated()
    return _RiskReader(faults).job(section.entries[RISK])


def read_item_spread(section: Section, faults: Faults) -> Spread:
    """Return what an item's key `risk` states, noting all faults."""
    if RISK not in section.entries:
        return NOTHING_STATED
    reader = _RiskReader(faults)
    return reader.spread(reader.section(section.entries[RISK], RISK, ITEM_KEYS))


def read_duration(section: Section, faults: Faults) -> Distribution | None:
    """Return the working days that a key `duration` states, noting all faults."""
    if DURATION not in section.entries:
        return None
    return _RiskReader(faults).range(section.entries[DURATION], DURATION, _DAY)


def _read(text: str, wanted: Unit) -> Measure:
    """Return a measure; a proportion of 1,000 % and more only lacks its percent sign."""
    measure = read_measure(text, wanted)
    if measure.in_unit(wanted) >= _TEN_TIMES:
        refuse_bare_percent(text, measure.in_unit(wanted), wanted, _TEN_TIMES)
    return measure


class _RiskReader(CorrelationReader):
    def job(self, written: Located) -> JobRiskStated:
        section = self.section(written, RISK, JOB_KEYS)
        known = self.share(section, "known")
        return JobRiskStated(
            usual=self.spread(section),
            correlation=self.correlation(section),
            events=tuple(self.events(section)),
            start=self.day(section, "start", "a day"),
            known=known,
        )

    def spread(self, section: Section) -> Spread:
        return Spread(self.factor(section, "quantity"), self.factor(section, "pace"))

    def factor(self, section: Section, key: str) -> Distribution | None:
        """Return a range around 1: two values are low and high, three have the likely one."""
        if key not in section.entries:
            return None
        result = self.range(section.entries[key], key, _FRACTION, likely=_HUNDRED_PERCENT)
        if result is not None and result.low <= 0.0:
            self.faults.add(section.entries[key].where, f"{key} may come to nothing", "above 0 %")
            return None
        return result

    def range(
        self, written: Located, what: str, wanted: Unit, likely: Fraction | None = None
    ) -> Distribution | None:
        """Return a range: one value, a list of low, likely and high, or those under keys."""
        if isinstance(written, Text):
            values = self.values((written,), what, wanted)
            return Fixed(values[0]) if values else None
        if isinstance(written, Listing):
            values = self.values(written.parts, what, wanted)
            if values and len(values) == 2 and likely is not None:
                values.insert(1, float(likely))
            return self.shaped(written.where, what, values, SHAPES[0])
        section = self.section(written, what, RANGE_KEYS)
        shape = self.known(section, "shape", SHAPES[0], SHAPES)
        stated = [section.entries[key] for key in RANGE_KEYS[:3] if key in section.entries]
        return self.shaped(written.where, what, self.values(stated, what, wanted), shape)

    def shaped(
        self, where: str, what: str, values: list[float] | None, shape: str
    ) -> Distribution | None:
        if values is None:
            return None
        ends = values if shape == "uniform" and len(values) == 2 else None
        if ends is None and shape == "uniform" and len(values) == 3:
            ends = [values[0], values[2]]
        if ends is not None:
            return self.tried(where, what, Uniform, *ends)
        if len(values) != 3:
            what_is_wrong = f"{what} has {len(values)} values"
            self.faults.add(where, what_is_wrong, "give low, likely and high")
            return None
        if shape == "pert":
            return self.tried(where, what, Pert, *values)
        return self.tried(where, what, Triangular, *values)

    def values(self, parts: Sequence[Located], what: str, wanted: Unit) -> list[float] | None:
        """Return measures in the wanted unit (money in cents), None if one has a fault."""
        scale = 100 if wanted is _DOLLAR else 1
        result = []
        for part in parts:
            if not isinstance(part, Text):
                self.faults.add(part.where, f"{what} is not a list of values")
                continue
            try:
                result.append(float(_read(part.value, wanted).in_unit(wanted) * scale))
            except InputFaulty as error:
                self.faults.take(f"{part.where}, {what}", error)
        return result if len(result) == len(parts) else None

    def events(self, section: Section) -> Iterator[Event]:
        parts = self.parts(section, "events", required=False)
        if len(parts) > MOST_EVENTS:
            self.faults.add(section.entries["events"].where, f"has more than {MOST_EVENTS} events")
        for written in parts[:MOST_EVENTS]:
            one = self.section(written, "event", EVENT_KEYS)
            event = self.event(one)
            if event is not None:
                yield event

    def event(self, one: Section) -> Event | None:
        """Return what may happen, None if it has a fault."""
        name, chance = self.text(one, "name"), self.share(one, "probability", required=True)
        phase = self.text(one, "phase", required=False)
        if not {"cost", "days"} & one.entries.keys():
            what = f"event {quoted(name)} has neither cost nor days"
            self.faults.add(one.where, what, "say what it costs, or how long it lasts")
            return None
        cost, days = (
            self.range(one.entries[key], key, wanted) if key in one.entries else _NOTHING
            for key, wanted in (("cost", _DOLLAR), ("days", _DAY))
        )
        if chance is None or cost is None or days is None:
            return None
        return self.tried(one.where, "", Event, name, chance, cost, phase, days)
