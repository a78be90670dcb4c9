"""How many decimals a quantity of each unit is printed, and therefore rounded, with."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimator.errors import Faults
from estimator.quantity.units import Unit
from estimator.rates.folders import TableFolder, table_rows

USUAL_DECIMALS = 2
MOST_DECIMALS = 4


@dataclass(frozen=True)
class UnitPrecision:
    """Decimals by the unit's short name; units that the table leaves out print with two."""

    decimals: Mapping[str, int]

    def of(self, unit: Unit) -> int:
        """Return how many decimals a quantity of the unit is printed with."""
        return self.decimals.get(unit.name, USUAL_DECIMALS)


def read_unit_precision(folders: Sequence[TableFolder], faults: Faults) -> UnitPrecision:
    """Return the printed precision from a stack of sets, lowest first, noting all faults."""
    decimals: dict[str, int] = {}
    seen: set[tuple[str, str]] = set()
    for row in table_rows(folders, "unit_precision.csv", faults):
        name = row.unit("unit").name
        number = row.decimal("decimals", decimals=0)
        row.source()
        if number is not None and number > MOST_DECIMALS:
            row.fault(f"decimals {number} is more than {MOST_DECIMALS}")
            number = None
        if (row.origin.tables, name) in seen:
            row.fault(f"repeats unit '{name}'")
        seen.add((row.origin.tables, name))
        decimals[name] = int(number) if number is not None else USUAL_DECIMALS
    return UnitPrecision(decimals)
