"""Estimates to write workbooks of: the sample, and a small one that can be worked out by hand."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from estimator import sample
from estimator.assemblies.tables import Tables, load_tables
from estimator.pricing.estimate import Estimate
from estimator.rates.folders import TableFolder, shipped_tables
from estimator.rates.resources import RateTable
from estimator.scheduling.dated_estimate import price
from estimator.scope.scope_reader import read_scope
from estimator.scope.scope_yaml import read_yaml
from tests.factories import MADE, SPRING, Rows, item, made_tables, scope_of

_SAMPLE = Path(sample.__file__).parent
_SCOPE = "harrow-lane-carbarn.yaml"
PRICING_DATE = date(2026, 3, 2)


def sample_tables() -> Tables:
    return load_tables([shipped_tables(), TableFolder("quotes", _SAMPLE / "harrow-lane-quotes")])


def sample_estimate(tables: Tables | None = None) -> Estimate:
    """Return the sample project, priced on the day its scope names."""
    tables = tables or sample_tables()
    scope = read_scope(read_yaml((_SAMPLE / _SCOPE).read_bytes(), _SCOPE), tables)
    return price(scope, tables, PRICING_DATE)


def with_rates(tables: Tables, rates: list[str]) -> Tables:
    """Return tables whose resources cost the given rates, one after the other."""
    rows = [
        replace(row, rate=Decimal(rates[n % len(rates)]), low=None, high=None)
        for n, row in enumerate(tables.rates.rows())
    ]
    return replace(tables, rates=RateTable(rows, tables.sets))


def small_estimate(folder: Path, tables: Mapping[str, Rows] = MADE, **more: object) -> Estimate:
    """Return two phases of three items from the made tables."""
    made = made_tables(folder, tables)
    fill = item("010", "stone-fill", length="27 ft", width="10 ft", depth="12 in",
                density="1.5 ton/cy")  # fmt: skip
    slab = item("010", "slab-pour", area="400 sf", thickness="4 in")
    cut = item("020", "floor-cut", length="100 ft")
    return price(scope_of(made, {"20": [fill], "30": [slab, cut]}, **more), made, SPRING)
