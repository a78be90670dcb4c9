"""Hours of machines, run and standing, and where each rent stands."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from types import MappingProxyType

from estimator.errors import EquipmentFaulty, Faults
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.machines_on_rent import (
    OnRent,
    billed_through,
    rent_accrued_cents,
    unbilled_rent_cents,
)

_HOURS_IN_A_DAY = 24


@dataclass(frozen=True)
class MachineHours:
    """Hours of a machine on one code and day.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day; when it was entered [UTC].
    machine, code : str
        What it is, and the cost code it worked for.
    run, standing : Decimal
        [hr] Run, and there without work; negative in a reversal.
    note : str
        Why it stood.
    reverses : int or None
        Number of the row that it takes back.
    """

    row: int
    happened: date
    entered: datetime
    machine: str
    code: str
    run: Decimal
    standing: Decimal = Decimal(0)
    note: str = ""
    reverses: int | None = None


@dataclass(frozen=True)
class MachineTime:
    """Hours of a machine in all [hr]."""

    run: Decimal
    standing: Decimal


@dataclass(frozen=True)
class RentStand:
    """Where a rent stands.

    Parameters
    ----------
    rent : OnRent
        With the day on which it was called off.
    cents : int
        [0.01 $] From its first day, before tax.
    accrued_cents : int
        [0.01 $] The part of it for which no bill is here.
    through : date or None
        Last day for which a bill is here.
    """

    rent: OnRent
    cents: int
    accrued_cents: int
    through: date | None


def check_machine_hours(row: MachineHours, that_day: Iterable[MachineHours]) -> None:
    """Check the hours of a machine.

    Parameters
    ----------
    row : MachineHours
        As it would be posted.
    that_day : iterable of MachineHours
        Of the same machine and day.

    Raises
    ------
    EquipmentFaulty
        If there are none, or more than a day has.
    """
    faults = Faults()
    if not row.run + row.standing:
        faults.add("run", "and standing are both zero", "write the hours")
    hours = sum((one.run + one.standing for one in [*that_day, row]), Decimal(0))
    if hours > _HOURS_IN_A_DAY:
        faults.add("run", f"{hours} hours of {row.machine} are more than a day has")
    faults.raise_if_any(EquipmentFaulty)


def machine_times(rows: Iterable[MachineHours]) -> Mapping[str, MachineTime]:
    """Return the hours of each machine, run and standing.

    Parameters
    ----------
    rows : iterable of MachineHours
        As known: see `as_known`.
    """
    run: dict[str, Decimal] = defaultdict(Decimal)
    stood: dict[str, Decimal] = defaultdict(Decimal)
    for one in rows:
        run[one.machine] += one.run
        stood[one.machine] += one.standing
    return MappingProxyType({name: MachineTime(run[name], stood[name]) for name in run})


def rent_stands(
    rents: Iterable[OnRent], costs: Sequence[Cost], as_of: date
) -> tuple[RentStand, ...]:
    """Return where each rent stands.

    Parameters
    ----------
    rents : iterable of OnRent
        See `running_rents`.
    costs : sequence of Cost
        As known.
    as_of : date
        The last day that counts.
    """
    stands = []
    for rent in rents:
        through = billed_through(rent, costs)
        accrued = unbilled_rent_cents(rent, through, as_of)
        stands.append(RentStand(rent, rent_accrued_cents(rent, as_of), accrued, through))
    return tuple(stands)
