"""The plain work of the sample's ten weeks: hours, quantities, loads, bills and payments."""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import ROUND_DOWN, Decimal
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import NamedTuple

from estimator.money import whole_half_up
from estimator.pricing.cost_line import CostLine
from estimator.pricing.printed_estimate import PrintedEstimate, PrintedItem
from estimator.sample.bills import LAST_PAYDAY, Purchase, bills, friday_of
from estimator.sample.drafts import UnnumberedEntry, draft
from estimator.sample.stone import STONE_CODES, stone_deliveries
from estimator.tracking.budget import Budget, budget_from_estimate

_WORK = Path(__file__).parent / "ten-weeks" / "work.csv"
_HOLIDAY = date(2026, 5, 25)
_FRIDAY, _SATURDAY = 4, 5
_LONG = timedelta(21)
_SHIFT = Decimal(8)
_QUARTER = Decimal("0.25")
_BURDEN = Decimal("1.2")
LABOR = "labor"
_OWNER = "owner-labor"
_CREW = {
    "laborer": "DM JR LT PS WK OV BT", "carpenter": "AB CH", "helper": "NN", "foreman": "RG",
    "rigger": "SB", "torch-cutter": "TC", "equipment-operator": "EK", "mason": "MF HD",
    "mason-tender": "JO BW", _OWNER: "OW",
}  # fmt: skip


class Stretch(NamedTuple):
    """Days on which a code is worked on, and how it goes against the estimate.

    Parameters
    ----------
    code : str
        Cost code.
    start, finish : date
        First and last day.
    share : float
        [fraction] Of the code's quantity.
    hours, cost : float
        Of the estimate's: 1.2 is a fifth more.
    """

    code: str
    start: date
    finish: date
    share: float
    hours: float
    cost: float


class WorkDay(NamedTuple):
    """A day's work on a code."""

    day: date
    share: float
    stretch: Stretch


def plain_work(estimate: PrintedEstimate, seed: int) -> Iterator[UnnumberedEntry]:
    """Yield what the plain work of the ten weeks makes, in no order.

    Parameters
    ----------
    estimate : PrintedEstimate
        Of the sample's scope.
    seed : int
        Of what differs from day to day.
    """
    dice = Random(seed)  # noqa: S311
    items = {one.item: one for one in estimate.items}
    days = [day for stretch in _stretches() for day in _work_days(stretch, dice)]
    worked = _worked(days, estimate.lines, dice)
    yield from _progress(days, items)
    hours = list(_hours(worked))
    yield from hours
    yield from _closed_weeks(hours)
    yield from stone_deliveries(_stone_by_day(days, items), dice)
    yield from bills(_purchases(budget_from_estimate(estimate), dice))


def _stretches() -> list[Stretch]:
    with _WORK.open(encoding="utf-8", newline="") as file:
        return [
            Stretch(
                row["code"], date.fromisoformat(row["start"]), date.fromisoformat(row["finish"]),
                *(float(row[name]) for name in ("share", "hours", "cost")),
            )
            for row in csv.DictReader(file)
        ]  # fmt: skip


def _work_days(stretch: Stretch, dice: Random) -> list[WorkDay]:
    """Return the days of a stretch; some bring more than others."""
    span = (stretch.finish - stretch.start).days + 1
    days = [stretch.start + timedelta(n) for n in range(span)]
    open_days = [day for day in days if day.weekday() < _SATURDAY and day != _HOLIDAY]
    weights = [dice.uniform(0.8, 1.2) for _ in open_days]
    return [
        WorkDay(day, stretch.share * weight / sum(weights), stretch)
        for day, weight in zip(open_days, weights, strict=True)
    ]


def _progress(days: list[WorkDay], items: dict[str, PrintedItem]) -> Iterator[UnnumberedEntry]:
    """Yield what is in place to date, when it has grown; of long work on Fridays only."""
    done: dict[str, float] = defaultdict(float)
    last: dict[str, Decimal] = {}
    for one in sorted(days, key=lambda one: one.day):
        code = one.stretch.code
        done[code] += one.share
        if one.stretch.finish - one.stretch.start > _LONG and one.day.weekday() != _FRIDAY:
            continue
        item = items[code]
        is_percent = item.unit == "$"
        whole = Decimal(100) if is_percent else item.quantity
        in_place = _rounded_down(whole, min(done[code] + 1e-9, 1.0))
        if in_place > last.get(code, Decimal(0)):
            last[code] = in_place
            unit = "%" if is_percent else item.unit
            yield draft(
                "progress", one.day, 18, code=code, in_place=str(in_place), unit=unit,
                percent=is_percent,
            )  # fmt: skip


def _rounded_down(whole: Decimal, share: float) -> Decimal:
    return (whole * Decimal(f"{share:.9f}")).quantize(whole, ROUND_DOWN)


def _worked(
    days: list[WorkDay], lines: tuple[CostLine, ...], dice: Random
) -> dict[tuple[date, CostLine], Decimal]:
    """Return the hours of each labor line on each day, in quarters."""
    hours: dict[tuple[date, CostLine], Decimal] = {}
    labor = [line for line in lines if line.kind == LABOR or line.resource == _OWNER]
    for one in days:
        for line in labor:
            if line.item == one.stretch.code:
                estimated = line.ordered / 10**line.decimals
                taken = estimated * one.share * one.stretch.hours * dice.uniform(0.9, 1.1)
                hours[one.day, line] = _QUARTER * max(round(taken * 4), 1)
    return hours


def _hours(worked: dict[tuple[date, CostLine], Decimal]) -> Iterator[UnnumberedEntry]:
    """Yield each person's hours: one of a trade works a shift before the next one is called."""
    called: dict[tuple[date, str], Decimal] = defaultdict(Decimal)
    for (day, line), hours in worked.items():
        crew, left = _CREW[line.resource].split(), hours
        while left:
            before = called[day, line.resource]
            person = crew[min(int(before // _SHIFT), len(crew) - 1)]
            now = min(left, _SHIFT - before % _SHIFT)
            called[day, line.resource] += now
            left -= now
            yield _hours_row(day, line, person, now)


def _hours_row(day: date, line: CostLine, person: str, hours: Decimal) -> UnnumberedEntry:
    rate = Decimal(line.rate) / 10_000
    wage = rate if not line.is_paid else (rate / _BURDEN / _QUARTER).to_integral_value() * _QUARTER
    return draft(
        "hours", day, 19, person=person, trade=line.resource, code=line.item, hours=str(hours),
        rate=f"{wage:.2f}", unpaid=not line.is_paid,
    )  # fmt: skip


def _closed_weeks(hours: list[UnnumberedEntry]) -> Iterator[UnnumberedEntry]:
    """Yield the closing of each week but the last; it makes two rows for each who was paid."""
    people: dict[date, set[str]] = defaultdict(set)
    for one in hours:
        if not one.body["unpaid"]:
            people[friday_of(one.entered.date())].add(one.body["person"])
    for friday, paid in sorted(people.items()):
        if friday < LAST_PAYDAY:
            yield draft("week", friday, 20)._replace(rows=2 * len(paid))


def _stone_by_day(
    days: list[WorkDay], items: dict[str, PrintedItem]
) -> dict[str, dict[date, float]]:
    """Return the tons that each code of stone takes on each day."""
    tons: dict[str, dict[date, float]] = {code: defaultdict(float) for code in STONE_CODES}
    for one in sorted(days, key=lambda one: one.day):
        if one.stretch.code in STONE_CODES:
            tons[one.stretch.code][one.day] += one.share * float(items[one.stretch.code].quantity)
    return tons


def _purchases(budget: Budget, dice: Random) -> Iterator[Purchase]:
    """Yield what is bought for each stretch, besides labor and stone."""
    for one in _stretches():
        for kind, cents in budget[one.code].cents_by_kind.items():
            if kind == LABOR or (kind == "material" and one.code in STONE_CODES):
                continue
            factor = Fraction(f"{one.share * one.cost * dice.uniform(0.97, 1.04):.6f}")
            yield Purchase(one.finish, one.code, kind, whole_half_up(cents * factor))
