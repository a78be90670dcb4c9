"""Public wages by trade, nation and state, as government surveys publish them.

A state that the survey's copy lacks gets the national wage times the ratio of its carpenters to the
nation's; where even that is not known, the national wage. A wage of an earlier year is moved by the
national wage of its trade. Each step stands in the words that go with the wage.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from importlib.resources import files
from pathlib import Path

from estimator.errors import Faults, RateMissing, TablesFaulty, did_you_mean, fault, quoted
from estimator.money import RATE_DECIMALS, exact_arithmetic, round_to_cent, rounded
from estimator.rates.csv_file import csv_file_rows
from estimator.rates.rows import Row

NATION = "US"
STATES = (
    "AL", "AK", "AZ", "AR", "CA", "CO", "CT", "DC", "DE", "FL", "GA", "HI", "ID",
    "IL", "IN", "IA", "KS", "KY", "LA", "ME", "MD", "MA", "MI", "MN", "MS", "MO",
    "MT", "NE", "NV", "NH", "NJ", "NM", "NY", "NC", "ND", "OH", "OK", "OR", "PA",
    "RI", "SC", "SD", "TN", "TX", "UT", "VT", "VA", "WA", "WV", "WI", "WY",
)  # fmt: skip

_WAGES = ("occupation", "trade", "area", "date", "mean", "low", "high", "source", "status", "note")
_RATIOS = ("state", "ratio", "date", "source", "status")
_SEEN = "seen"


@dataclass(frozen=True)
class PublicWage:
    """What a trade is paid in an area: straight time, before taxes, insurance and benefits.

    Parameters
    ----------
    occupation, trade : str
        Number and name in the survey.
    area : str
        `US`, or the two letters of a state.
    date : str
        Year and month of the survey, such as `2025-05`.
    mean : Decimal [$/hr]
        Of all employees.
    low, high : Decimal or None [$/hr]
        10th and 90th percentile; None where they are not published.
    source : str
        Title of the survey, with how far its copy can be trusted.
    """

    occupation: str
    trade: str
    area: str
    date: str
    mean: Decimal
    low: Decimal | None
    high: Decimal | None
    source: str

    @property
    def year(self) -> int:
        """Of the survey."""
        return int(self.date[:4])


@dataclass(frozen=True)
class WageRatio:
    """What carpenters of a state are paid as a part of what those of the nation are."""

    state: str
    ratio: Decimal
    source: str


@dataclass(frozen=True)
class PublicWages:
    """All public wages that ship.

    Parameters
    ----------
    wages : tuple of PublicWage
        In the order of the file.
    ratios : mapping of str to WageRatio
        By state.
    occupations : mapping of str to str
        Number of the survey by resource of the rate tables.
    """

    wages: tuple[PublicWage, ...]
    ratios: Mapping[str, WageRatio]
    occupations: Mapping[str, str]

    def newest(self, occupation: str, area: str, year: int) -> PublicWage | None:
        """Return the newest wage of an area not later than a year, None if there is none."""
        known = [
            one
            for one in self.wages
            if one.occupation == occupation and one.area == area and one.year <= year
        ]
        return max(known, key=lambda one: one.date, default=None)


@cache
def public_wages() -> PublicWages:
    """Return the public wages that ship."""
    return read_public_wages(public_folder())


def public_folder() -> Path:
    """Return the folder of public figures that ship."""
    return Path(str(files("groundsill_rates"))) / "public"


def read_public_wages(folder: Path) -> PublicWages:
    """Return the public wages of a folder.

    Raises
    ------
    TablesFaulty
        With every fault of its files.
    """
    faults = Faults()
    wages = [
        _wage(row) for row in csv_file_rows(folder / "wages.csv", "public wages", _WAGES, faults)
    ]
    ratios = [
        WageRatio(row.text("state"), _number(row, "ratio", 4), sourced(row))
        for row in csv_file_rows(folder / "wage_ratios.csv", "public wages", _RATIOS, faults)
    ]
    trades = csv_file_rows(
        folder / "trades.csv", "public wages", ("resource", "occupation"), faults
    )
    occupations = {row.code("resource"): row.text("occupation") for row in trades}
    faults.raise_if_any(TablesFaulty)
    return PublicWages(tuple(wages), {one.state: one for one in ratios}, occupations)


@exact_arithmetic
def wage_of(wages: PublicWages, resource: str, state: str | None, year: int) -> PublicWage:
    """Return the public wage of a resource in a state and year, with how it was come by.

    Parameters
    ----------
    wages : PublicWages
        All that are known.
    resource : str
        Code of the rate tables, such as `carpenter`.
    state : str or None
        Two letters; None for the nation.
    year : int
        Surveys up to it count; the newest is taken.

    Raises
    ------
    RateMissing
        If the resource stands for no trade of the surveys, the state is unknown, or no survey is
        as early as the year.

    Notes
    -----
    Where percentiles are not published, those of the nation are taken in proportion to the mean.

    Examples
    --------
    >>> ohio = wage_of(public_wages(), "carpenter", "OH", 2026)
    >>> ohio.mean, ohio.low, ohio.high  # 31.55, 19.43, 48.03 of the nation x 0.934
    (Decimal('29.47'), Decimal('18.15'), Decimal('44.86'))
    """
    if resource not in wages.occupations:
        what = f"no public wage is known for {quoted(resource)}"
        raise fault(RateMissing, what, did_you_mean(resource, wages.occupations))
    if state is not None and state not in STATES:
        raise fault(
            RateMissing,
            f"{quoted(state)} is not a state",
            "write its two letters, such as OH",
            "state",
        )
    occupation = wages.occupations[resource]
    nation = wages.newest(occupation, NATION, year)
    if nation is None:
        first = min(one.year for one in wages.wages)
        raise fault(RateMissing, f"no survey is as early as {year}", f"the first is of {first}")
    if state is None:
        return nation
    own = wages.newest(occupation, state, year)
    return _from_ratio(wages, nation, state) if own is None else _of_today(wages, own, nation)


def _from_ratio(wages: PublicWages, nation: PublicWage, state: str) -> PublicWage:
    """Return the national wage in a state that the survey's copy lacks."""
    if state not in wages.ratios:
        return _multiplied(nation, state, Decimal(1), f"{nation.source}; none of {state} is known")
    ratio = wages.ratios[state]
    return _multiplied(
        nation, state, ratio.ratio, f"{nation.source} x {ratio.ratio}: {ratio.source}"
    )


def _of_today(wages: PublicWages, own: PublicWage, nation: PublicWage) -> PublicWage:
    """Return a state's wage at the date of the national one."""
    then = min(
        (one for one in wages.wages if _is_nation(one, own.occupation) and one.date >= own.date),
        key=lambda one: one.date,
    )
    factor = rounded(nation.mean / then.mean, RATE_DECIMALS)
    source = own.source
    if then.date != nation.date:
        source += f" x {factor}, as the nation's from {then.date} to {nation.date}"
    moved = _multiplied(own, own.area, factor, source)
    if moved.low is not None and moved.high is not None:
        return moved
    as_nation = _multiplied(nation, own.area, moved.mean / nation.mean, source)
    return replace(
        moved, low=as_nation.low, high=as_nation.high, source=f"{source}; spread as in the nation"
    )


def _is_nation(wage: PublicWage, occupation: str) -> bool:
    return wage.area == NATION and wage.occupation == occupation


def _multiplied(wage: PublicWage, area: str, factor: Decimal, source: str) -> PublicWage:
    mean, low, high = (
        None if one is None else round_to_cent(one * factor)
        for one in (wage.mean, wage.low, wage.high)
    )
    return replace(wage, area=area, mean=mean or wage.mean, low=low, high=high, source=source)


def _wage(row: Row) -> PublicWage:
    low, high = (row.decimal(one, decimals=2, required=False) for one in ("low", "high"))
    return PublicWage(
        occupation=row.text("occupation"),
        trade=row.text("trade"),
        area=row.text("area"),
        date=row.text("date"),
        mean=_number(row, "mean", 2),
        low=low,
        high=high,
        source=sourced(row),
    )


def sourced(row: Row) -> str:
    """Return the source of a public figure; what nobody read in the original says so."""
    status = row.text("status")
    return row.source() if status.startswith(_SEEN) else f"{row.source()} ({status})"


def _number(row: Row, column: str, decimals: int) -> Decimal:
    return row.decimal(column, decimals=decimals) or Decimal(0)
