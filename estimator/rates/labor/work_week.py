"""What long days cost: the premium of overtime on every hour of a week, by the law of a place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property
from types import MappingProxyType

from estimator.errors import LaborFaulty, did_you_mean, fault, quoted
from estimator.money import RATE_DECIMALS, rounded
from estimator.rates.exact_inputs import COUNT, Count, Exact, exact_inputs
from estimator.rates.kinds import LABOR
from estimator.rates.labor.overtime import STANDARD_WEEK_HR
from estimator.rates.resources import ResourceRate

FEDERAL, NO_RULE = "federal", "none"
_HALF = Decimal("0.5")
_SEVEN_DAYS = 7


@exact_inputs(LaborFaulty, week_hr="hr", day_hr="hr", double_hr="hr")
@dataclass(frozen=True)
class OvertimeRule:
    """From when on an hour is paid at one and a half times, or twice.

    Parameters
    ----------
    source : str
        The law.
    week_hr : Decimal or None [hr]
        Straight hours of a week, beyond which an hour bears half more; None for no rule.
    day_hr, double_hr : Decimal or None [hr]
        Hours of a day, beyond which an hour bears half more, or once more.
    is_counted_once : bool
        Whether hours that a day makes overtime are left out of those of the week; else the
        larger of both counts.
    has_seventh_day : bool
        Whether the seventh day in a row bears half more from its first hour, once more beyond
        `day_hr`.
    """

    source: str
    week_hr: Exact | None = STANDARD_WEEK_HR
    day_hr: Exact | None = None
    double_hr: Exact | None = None
    is_counted_once: bool = True
    has_seventh_day: bool = False


# Of the states whose law counts by the day; the others follow the federal rule.
OVERTIME_RULES: Mapping[str, OvertimeRule] = MappingProxyType(
    {
        FEDERAL: OvertimeRule("29 CFR 778.101"),
        "Alaska": OvertimeRule("Alaska Stat. 23.10.060 (from memory)", day_hr=Decimal(8)),
        "California": OvertimeRule(
            "California Labor Code 510(a) (from memory)",
            day_hr=Decimal(8),
            double_hr=Decimal(12),
            has_seventh_day=True,
        ),
        "Colorado": OvertimeRule(
            "Colorado 7 CCR 1103-1, 4.1.1 (from memory)",
            day_hr=Decimal(12),
            is_counted_once=False,
        ),
        NO_RULE: OvertimeRule("no premium, as the scope states", week_hr=None),
    }
)


@exact_inputs(LaborFaulty, hours_in_day="hr", days=COUNT)
@dataclass(frozen=True)
class WorkWeek:
    """The week that a crew works.

    Parameters
    ----------
    hours_in_day : Decimal [hr]
        Of each working day.
    days : int
        Working days of a week.
    rule : str
        One of `OVERTIME_RULES`.

    Raises
    ------
    LaborFaulty
        If there is no such rule, or a week of more than seven days or a day of more than 24 hours.
    """

    hours_in_day: Exact
    days: Count
    rule: str = FEDERAL

    def __post_init__(self) -> None:
        if self.days > _SEVEN_DAYS:
            raise fault(LaborFaulty, "is above 7", "enter the working days of one week", "days")
        if self.hours_in_day > 24:
            remedy = "enter the working hours of one day"
            raise fault(LaborFaulty, "is above 24", remedy, "hours_in_day")
        if self.rule not in OVERTIME_RULES:
            what = f"{quoted(self.rule)} is not an overtime rule"
            raise fault(LaborFaulty, what, did_you_mean(self.rule, OVERTIME_RULES), "overtime")

    @property
    def hours(self) -> Decimal:
        """All hours of the week [hr]."""
        return self.hours_in_day * self.days

    @cached_property
    def premium_hours(self) -> Decimal:
        """Hours of straight pay that the premium of the week comes to [hr].

        Notes
        -----
        Half an hour for each hour beyond 40 of the week; by a rule of days, half for each hour of
        a day beyond its limit and once for each beyond its second.

        Examples
        --------
        >>> WorkWeek(Decimal(10), 5).premium_hours, WorkWeek(Decimal(10), 4).premium_hours
        (Decimal('5.0'), Decimal('0.0'))
        >>> WorkWeek(Decimal(10), 4, "California").premium_hours
        Decimal('4.0')
        """
        rule = OVERTIME_RULES[self.rule]
        if rule.week_hr is None:
            return Decimal(0)
        if rule.day_hr is None:
            return _HALF * _beyond(self.hours, rule.week_hr)
        over_days = self.days * _beyond(self.hours_in_day, rule.day_hr)
        if not rule.is_counted_once:
            return _HALF * max(over_days, _beyond(self.hours, rule.week_hr))
        double = _beyond(self.hours_in_day, rule.double_hr) if rule.double_hr else Decimal(0)
        straight_day = self.hours_in_day - _beyond(self.hours_in_day, rule.day_hr)
        if not (rule.has_seventh_day and self.days == _SEVEN_DAYS):
            over_week = _beyond(straight_day * self.days, rule.week_hr)
            return _HALF * (over_days + self.days * double + over_week)
        six = replace(self, days=_SEVEN_DAYS - 1).premium_hours
        return six + _HALF * straight_day + _beyond(self.hours_in_day, rule.day_hr)

    def paid(self, rate: ResourceRate) -> ResourceRate:
        """Return what an hour costs in such a week, with its share of the premium.

        Parameters
        ----------
        rate : ResourceRate
            Of any kind; only paid labor by the hour bears a premium.

        Notes
        -----
        The premium is taken on the whole rate, burden included: taxes follow pay, and where
        workers' compensation leaves the premium out, a little less is due.
        """
        is_labor = rate.kind == LABOR and rate.is_paid and rate.unit.name == "hr"
        if not (is_labor and self.premium_hours):
            return rate

        def with_premium(end: Decimal | None) -> Decimal | None:
            more = self.hours + self.premium_hours
            return end if end is None else rounded(end * more / self.hours, RATE_DECIMALS)

        words = (
            f"${rate.rate:f} with overtime: {self.days} days of {self.hours_in_day.normalize():f} "
            f"hr a week are paid as {(self.hours + self.premium_hours).normalize():f} hr, "
            f"{OVERTIME_RULES[self.rule].source}"
        )
        return replace(
            rate,
            rate=with_premium(rate.rate) or rate.rate,
            low=with_premium(rate.low),
            high=with_premium(rate.high),
            source=f"{rate.source}; {words}",
        )


STRAIGHT_TIME = WorkWeek(Decimal(8), 5, NO_RULE)


def _beyond(hours: Decimal, limit: Decimal) -> Decimal:
    return max(Decimal(0), hours - limit)
