"""What an entry of the site says when it is posted: hours, progress, holds, stock, rents."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from api.contract.commands import several
from api.contract.fields import Choice, Day, Money, Quantity, RatePerUnit, Whole, Words, YesNo
from api.contract.schemas import ListOf
from api.ledger.entry_fields import (
    CostCode,
    Name,
    NewEntry,
    Note,
    Positive,
    RowNumber,
    UnitName,
    Vendor,
)
from api.store.models.base import CODE_LENGTH, NAME_LENGTH, NOTE_LENGTH
from estimator.rates.kinds import COSTS
from estimator.tracking.own_stock import HAD, RECOVERED, SOLD, UNUSED, USED

EXAMPLE_HOURS: dict[str, Any] = {
    "happened": "2026-02-11", "person": "AB", "trade": "laborer", "code": "30.020", "hours": "7.5",
    "rate": "24.00",
}  # fmt: skip
EXAMPLE_PROGRESS: dict[str, Any] = {
    "happened": "2026-02-13", "code": "30.020", "in_place": "12", "unit": "ton",
}  # fmt: skip
EXAMPLE_HOLD: dict[str, Any] = {
    "happened": "2026-02-02", "code": "30.010", "name": "density of lift 1", "needs": "95 %",
    "decides": "engineer", "allowed": "40",
}  # fmt: skip
EXAMPLE_HOLD_RESULT: dict[str, Any] = {
    "happened": "2026-02-12", "code": "30.010", "name": "density of lift 1", "passed": True,
    "note": "96.2 %",
}  # fmt: skip
EXAMPLE_STOCK: dict[str, Any] = {
    "happened": "2026-02-10", "material": "floor plank", "unit": "sf", "move": "recovered",
    "quantity": "890",
}  # fmt: skip
EXAMPLE_RENT: dict[str, Any] = {
    "happened": "2026-02-09", "machine": "skid steer", "vendor": "Mill Street Rental",
    "code": "30.020", "day": "295.00", "week": "1040.00", "month": "2950.00",
}  # fmt: skip
EXAMPLE_CALL_OFF: dict[str, Any] = {"happened": "2026-02-20", "rent": 6}
EXAMPLE_MACHINE_HOURS: dict[str, Any] = {
    "happened": "2026-02-10", "machine": "skid steer", "code": "30.020", "run": "6.5",
    "standing": "1.5", "note": "waited for the truck",
}  # fmt: skip
EXAMPLE_POINT: dict[str, Any] = {
    "happened": "2026-02-02", "name": "crack 3, north wall", "unit": "mm", "most": "3.0",
}  # fmt: skip
EXAMPLE_READING: dict[str, Any] = {
    "happened": "2026-02-09", "point": "crack 3, north wall", "value": "2.4",
}  # fmt: skip
EXAMPLE_PLAN: dict[str, Any] = {
    "happened": "2026-02-02", "code": "30", "start": "2026-03-09", "finish": "2026-04-03",
}  # fmt: skip
EXAMPLE_DAY: dict[str, Any] = {
    "happened": "2026-02-10", "weather": "rain until noon", "temperature_f": "41",
    "people": ["AB", "CD"], "found": "old drain under the west pit",
    "lost": [{"hours": "6", "reason": "rain"}],
}  # fmt: skip
MOST_PEOPLE, MOST_REASONS = 200, 50


@dataclass(frozen=True, kw_only=True)
class NewHours(NewEntry):
    """One person's hours on one code and day."""

    person: Annotated[str, Words(NAME_LENGTH), "Initials."]
    trade: Annotated[Name, "Trade worked in, such as laborer."]
    code: CostCode
    hours: Annotated[Positive, "Hours worked, such as 7.5."]
    rate: Annotated[
        Decimal | None,
        RatePerUnit(),
        "Straight time, in dollars an hour; if left out, the person's last rate in the trade.",
    ] = None
    unpaid: Annotated[bool, YesNo(), "True for the owner's own hours: no cash, no draw."] = False


@dataclass(frozen=True, kw_only=True)
class NewProgress(NewEntry):
    """A measurement of a cost code: the quantity in place to date."""

    code: CostCode
    in_place: Annotated[
        Decimal, Quantity(), "Quantity in place to date, in that unit; in percent if the unit is %."
    ]
    unit: Annotated[str, Words(CODE_LENGTH), "Unit of the code, or %; any other is refused."] = ""
    expected: Annotated[Decimal | None, Quantity(), "Final quantity, measured again."] = None
    percent: Annotated[bool, YesNo(), "True if the figure is in percent."] = False
    inspector: Annotated[bool, YesNo(), "True if the lender's inspector measured it."] = False
    reason: Annotated[str, Words(NOTE_LENGTH), "Why it went down, or past a hold point."] = ""


@dataclass(frozen=True, kw_only=True)
class NewHold(NewEntry):
    """A hold point: what must happen before work goes on."""

    code: CostCode
    name: Annotated[Name, "Name of the hold point, such as density of lift 1."]
    needs: Annotated[Name, "What must be met, such as 95 %."]
    decides: Annotated[Name, "Who decides, such as engineer."]
    allowed: Annotated[Decimal, Quantity(), "Quantity allowed in place before it is passed."] = (
        Decimal(0)
    )
    notice_days: Annotated[int, Whole(0, 365), "Days of notice to whoever decides."] = 0


@dataclass(frozen=True, kw_only=True)
class NewHoldResult(NewEntry):
    """The result of a hold point."""

    code: CostCode
    name: Annotated[Name, "Name of the hold point."]
    passed: Annotated[bool, YesNo(), "Whether it passed."]
    note: Note = ""


@dataclass(frozen=True, kw_only=True)
class NewStockMove(NewEntry):
    """Own material in or out, or a count of bought material not used yet."""

    material: Annotated[Name, "What it is, such as old plank."]
    unit: UnitName
    move: Annotated[
        str,
        Choice(RECOVERED, HAD, USED, SOLD, UNUSED),
        "What became of it; a count of what is not used yet replaces the one before.",
    ]
    quantity: Annotated[Decimal, Quantity(), "How much; above zero, except in a count."]
    code: Annotated[CostCode, "Where it is from or goes to; a count names it."] = ""
    kind: Annotated[str, Choice(*COSTS), "For a count: the kind it was bought as."] = ""
    amount: Annotated[Decimal | None, Money(), "For a count: what it was bought for, with tax."] = (
        None
    )


@dataclass(frozen=True, kw_only=True)
class NewRent(NewEntry):
    """The start of a machine's rent, charged by calendar days."""

    machine: Annotated[Name, "What is rented, such as skid steer."]
    vendor: Vendor
    code: CostCode
    day: Annotated[Decimal | None, Money(), "Price of a day."] = None
    week: Annotated[Decimal | None, Money(), "Price of a week."] = None
    month: Annotated[Decimal | None, Money(), "Price of four weeks."] = None


@dataclass(frozen=True, kw_only=True)
class NewCallOff(NewEntry):
    """The end of a machine's rent; its day is the last one charged."""

    rent: Annotated[RowNumber, "Row of the rent."]


@dataclass(frozen=True, kw_only=True)
class NewMachineHours(NewEntry):
    """A machine's hours on one code and day, running and standing."""

    machine: Annotated[Name, "Which machine, such as skid steer."]
    code: CostCode
    run: Annotated[Decimal, Quantity(), "Hours run."]
    standing: Annotated[Decimal, Quantity(), "Hours on site without work."] = Decimal(0)
    note: Note = ""


@dataclass(frozen=True, kw_only=True)
class NewPoint(NewEntry):
    """A point to be measured regularly, with its limits."""

    name: Annotated[Name, "Name of the point, such as crack 3, north wall."]
    unit: Annotated[UnitName, "Unit of its readings, such as mm."]
    least: Annotated[Decimal | None, Quantity(least=None), "Lowest reading allowed."] = None
    most: Annotated[Decimal | None, Quantity(least=None), "Highest reading allowed."] = None
    note: Note = ""


@dataclass(frozen=True, kw_only=True)
class NewReading(NewEntry):
    """One reading of a point."""

    point: Annotated[Name, "Name of the point."]
    value: Annotated[Decimal, Quantity(least=None), "What was read, in the unit of the point."]


@dataclass(frozen=True, kw_only=True)
class NewPlan(NewEntry):
    """The first and the last day of a cost code, or of every code of a phase."""

    code: Annotated[CostCode, "Cost code, such as 30.020, or phase, such as 30."]
    start: Annotated[date, Day(), "First day."]
    finish: Annotated[date, Day(), "Last day."]


@dataclass(frozen=True, kw_only=True)
class Lost:
    """Hours lost for one reason."""

    hours: Annotated[Decimal, Quantity(above="0"), "Hours of everybody together."]
    reason: Name


@dataclass(frozen=True, kw_only=True)
class NewDay(NewEntry):
    """A day sheet, the record of one day; if a day has several, the last one counts."""

    weather: Annotated[Note, "Such as rain until noon."] = ""
    temperature_f: Annotated[
        Decimal | None, Quantity(least=None), "In degrees Fahrenheit, such as 41."
    ] = None
    people: Annotated[
        Sequence[str], ListOf(Words(NAME_LENGTH), 0, MOST_PEOPLE), "Initials of who was there."
    ] = ()
    visitors: Annotated[Note, "Who visited the site."] = ""
    found: Annotated[str, Words(NOTE_LENGTH), "What was found."] = ""
    incidents: Annotated[Note, "Accidents and near misses."] = ""
    lost: Annotated[Sequence[Lost], several(Lost, 0, MOST_REASONS)] = ()
