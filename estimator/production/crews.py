"""Crews: who and what machines work together.

A member's need is crew hours x number, in the unit of its resource: hours for a laborer, days for
a machine that is rented by the day.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import Faults, did_you_mean, quoted
from estimator.quantity.units import Unit, unit
from estimator.rates.folders import TableFolder, table_rows
from estimator.rates.resources import RateTable
from estimator.rates.rows import Origin, Row

ORDERED_PER = ("item", "phase")


@dataclass(frozen=True)
class CrewMember:
    """One resource of a crew.

    Parameters
    ----------
    resource : str
        Code of a resource per hour or per day.
    number : Decimal
        How many of it work.
    order_multiple : Decimal or None
        In the resource's unit: whole days for a machine that is rented by the day.
    ordered_per : str
        `item` or `phase`: whose needs are added up before rounding.
    origin : Origin
        The row it stands in.
    """

    resource: str
    number: Decimal
    order_multiple: Decimal | None
    ordered_per: str
    origin: Origin


@dataclass(frozen=True)
class Crew:
    """A crew by its code, with its members in order."""

    code: str
    members: tuple[CrewMember, ...]


def read_crews(
    folders: Sequence[TableFolder], rates: RateTable, faults: Faults
) -> Mapping[str, Crew]:
    """Return the crews by code; the highest set that names a crew replaces it whole."""
    members: dict[str, dict[str, CrewMember]] = {}
    for row in table_rows(folders, "crews.csv", faults):
        code = row.code("crew")
        member = _member(row)
        _check_member(row, member, rates)
        known = members.setdefault(code, {})
        if known and next(iter(known.values())).origin.tables != row.origin.tables:
            known.clear()
        first = known.setdefault(member.resource, member)
        if first is not member:
            row.fault(f"repeats member {quoted(member.resource)} of row {first.origin.row}")
    return {code: Crew(code, tuple(listed.values())) for code, listed in members.items()}


def _member(row: Row) -> CrewMember:
    ordered_per = row.text("ordered_per", required=False) or "item"
    if ordered_per not in ORDERED_PER:
        row.fault(f"ordered_per {quoted(ordered_per)} is not known", "write item or phase")
    row.source()
    number = row.decimal("number", decimals=3)
    multiple = row.decimal("order_multiple", decimals=4, required=False)
    _check_numbers(row, number, multiple, ordered_per)
    return CrewMember(
        resource=row.code("resource"),
        number=number or Decimal(1),
        order_multiple=multiple,
        ordered_per=ordered_per,
        origin=row.origin,
    )


def _check_numbers(
    row: Row, number: Decimal | None, multiple: Decimal | None, ordered_per: str
) -> None:
    if number == 0:
        row.fault("number is zero", "take the member out, or write how many work")
    if multiple == 0:
        row.fault("order_multiple is zero", "leave it empty where any quantity can be bought")
    if ordered_per == "phase" and multiple is None:
        row.fault("is ordered per phase without an order multiple", "write one, or item")


def _check_member(row: Row, member: CrewMember, rates: RateTable) -> None:
    if not member.resource:
        return
    if member.resource not in rates:
        row.fault(
            f"unknown resource {quoted(member.resource)}",
            did_you_mean(member.resource, rates.codes),
        )
    elif not is_time(rates.unit_of(member.resource)):
        priced_per = rates.unit_of(member.resource).name
        row.fault(
            f"resource {quoted(member.resource)} is priced per {priced_per}",
            "a crew member is priced per hr, day, week or month",
        )


def is_time(one: Unit) -> bool:
    """Whether a resource of this unit works by the clock or is rented by the calendar."""
    return one.dimension in (unit("hr").dimension, unit("day").dimension)
