"""Location: what prices of one place come to in another, by factors of kinds of resources.

A factor multiplies the rate: 1.08 for labor says that an hour costs 8 % more there than where the
rates are from. Factors come from somebody's survey of prices; the source stays with them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from estimator.errors import Faults, RateMissing, TablesFaulty, did_you_mean, fault, quoted
from estimator.money import HOUSE
from estimator.rates.adjustment.escalation import FACTOR_DECIMALS, printed_factor
from estimator.rates.csv_file import csv_file_rows
from estimator.rates.exact_inputs import Exact, exact_inputs
from estimator.rates.kinds import KINDS
from estimator.rates.rows import Row

COLUMNS = ("location", "kind", "factor", "source")
LOWEST, HIGHEST = Decimal("0.1"), Decimal(10)

FactorsByPlace = Mapping[str, Mapping[str, "LocationFactor"]]


@exact_inputs(TablesFaulty, factor="fraction")
@dataclass(frozen=True)
class LocationFactor:
    """What rates of one kind are multiplied by in one place.

    Parameters
    ----------
    location : str
        The place, as the table calls it.
    kind : str
        One of `KINDS`.
    factor : Decimal
        1 where prices are as in the rates; from 0.1 to 10.
    source : str
        Whose survey, of which year.
    """

    location: str
    kind: str
    factor: Exact
    source: str


def read_location_file(path: Path) -> dict[str, dict[str, LocationFactor]]:
    """Return the factors of all places of a CSV file, by place and kind.

    Columns: `location`, `kind` (or `all`, for the kinds that the place does not name), `factor`,
    `source`.

    Raises
    ------
    TablesFaulty
        With every fault of the file.
    """
    faults = Faults()
    by_place: dict[str, dict[str, LocationFactor]] = {}
    for row in csv_file_rows(path, "location file", COLUMNS, faults):
        one = _location_factor(row)
        known = by_place.setdefault(one.location, {})
        if one.kind in known:
            row.fault(f"repeats {one.kind} of {quoted(one.location)}", "keep one")
        known[one.kind] = one
    if not faults.entries and not by_place:
        faults.add(f"location file {path.name}", "holds no factor")
    faults.raise_if_any(TablesFaulty)
    return {place: _by_kind(factors) for place, factors in by_place.items()}


def factors_of(table: FactorsByPlace, location: str) -> Mapping[str, LocationFactor]:
    """Return the factors of a place by kind, for rates of the place that stands at 1.

    Raises
    ------
    RateMissing
        If the table has no such place, with the nearest name.
    """
    if location not in table:
        raise fault(
            RateMissing,
            f"no factor is known for the place {quoted(location)}",
            did_you_mean(location, table),
        )
    return table[location]


def factors_against(
    table: FactorsByPlace, location: str, rates_of: str
) -> Mapping[str, LocationFactor]:
    """Return the factors of a place by kind, for rates that are of another place of the table.

    Kinds that one of the two places has no factor for are left out.

    Raises
    ------
    RateMissing
        If the table has not both places, with the nearest name.

    Notes
    -----
    factor = factor there / factor here, rounded half-up to six decimals.

    Examples
    --------
    >>> table = {"Seaport": {"labor": LocationFactor("Seaport", "labor", Decimal("1.14"), "mine")},
    ...          "Lowland": {"labor": LocationFactor("Lowland", "labor", Decimal("0.95"), "mine")}}
    >>> factors_against(table, "Seaport", "Lowland")["labor"].factor
    Decimal('1.200000')
    """
    there, here = factors_of(table, location), factors_of(table, rates_of)
    return {
        kind: LocationFactor(
            f"{location} against {rates_of}",
            kind,
            printed_factor(HOUSE.divide(one.factor, here[kind].factor)),
            one.source,
        )
        for kind, one in there.items()
        if kind in here
    }


def _location_factor(row: Row) -> LocationFactor:
    factor = row.decimal("factor", decimals=FACTOR_DECIMALS)
    if factor is not None and not LOWEST <= factor <= HIGHEST:
        row.fault(
            f"factor {factor} is not from {LOWEST} to {HIGHEST}",
            "a place that is 8 % more expensive has the factor 1.08",
        )
    return LocationFactor(
        location=row.text("location"),
        kind=row.choice("kind", (*KINDS, "all")),
        factor=factor or Decimal(1),
        source=row.source(),
    )


def _by_kind(by_place: Mapping[str, LocationFactor]) -> dict[str, LocationFactor]:
    """Return the factors by kind, with that for `all` where a kind has none of its own."""
    by_kind: dict[str, LocationFactor] = {}
    for kind in KINDS:
        one = by_place.get(kind, by_place.get("all"))
        if one is not None:
            by_kind[kind] = LocationFactor(one.location, kind, one.factor, one.source)
    return by_kind
