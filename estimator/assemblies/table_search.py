"""What the tables hold that has certain words in it, with prices."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimator.assemblies.tables import Tables
from estimator.errors import RateMissing
from estimator.money import exact_arithmetic
from estimator.production.crews import Crew

ASSEMBLY, RESOURCE, CREW, CAUTION = SORTS = ("assembly", "resource", "crew", "caution")


@dataclass(frozen=True)
class Price:
    """What one unit costs on a day; the value of unpaid work or material is not paid."""

    amount: Decimal
    unit: str
    is_paid: bool


@dataclass(frozen=True)
class Match:
    """One assembly, resource, crew or caution that has the words in it.

    Parameters
    ----------
    sort : str
        One of `SORTS`.
    code : str
        Its key.
    words : str
        What it is: a name, the members of a crew, the sentence of a caution.
    unit : str
        What an assembly or a resource is measured in, else empty.
    prices : tuple of Price
        A resource's rate; what a crew costs together, by unit. An assembly is priced by the
        measures of an item, and a rate may be missing on the day.
    """

    sort: str
    code: str
    words: str
    unit: str = ""
    prices: tuple[Price, ...] = ()


@exact_arithmetic
def search(tables: Tables, words: str, on: date) -> tuple[Match, ...]:
    """Return all whose code, name or sentence has every word in it, or as a part of a word.

    Parameters
    ----------
    tables : Tables
        The rate tables, assemblies and cautions.
    words : str
        One or more, in any case and order: `stone deliv`. None finds nothing.
    on : date
        The day of the prices.
    """
    parts = words.casefold().split()
    return tuple(one for one in _everything(tables, on) if parts and _has(one, parts))


def _has(match: Match, parts: list[str]) -> bool:
    text = f"{match.code}\n{match.words}".casefold()
    return all(part in text for part in parts)


def _everything(tables: Tables, on: date) -> Iterator[Match]:
    for assembly in tables.catalogue.assemblies.values():
        yield Match(ASSEMBLY, assembly.code, assembly.name, assembly.unit.name)
    for code in tables.rates.codes:
        yield _resource(tables, code, on)
    for crew in tables.crews.values():
        yield Match(CREW, crew.code, _members(crew), prices=tuple(_crew_prices(tables, crew, on)))
    for caution in tables.catalogue.cautions.values():
        yield Match(CAUTION, caution.code, caution.caution)


def _resource(tables: Tables, code: str, on: date) -> Match:
    unit_name = tables.rates.unit_of(code).name
    try:
        rate = tables.rates.rate_on(code, on)
    except RateMissing:
        return Match(RESOURCE, code, tables.rates.name_of(code), unit_name)
    price = Price(rate.rate, unit_name, rate.is_paid)
    return Match(RESOURCE, code, rate.name, unit_name, (price,))


def _members(crew: Crew) -> str:
    return ", ".join(f"{member.number.normalize():f} {member.resource}" for member in crew.members)


def _crew_prices(tables: Tables, crew: Crew, on: date) -> Iterator[Price]:
    """Yield what a crew costs an hour and what its rented machines cost a day, paid and unpaid."""
    sums: dict[tuple[str, bool], Decimal] = {}
    for member in crew.members:
        try:
            rate = tables.rates.rate_on(member.resource, on)
        except RateMissing:
            return
        key = rate.unit.name, rate.is_paid
        sums[key] = sums.get(key, Decimal(0)) + member.number * rate.rate
    for (unit_name, is_paid), amount in sums.items():
        yield Price(amount, unit_name, is_paid)
