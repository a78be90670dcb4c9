"""The production of crews beside public man-hours: labor hours of one unit of work."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from estimator.assemblies.assembly import PRODUCTION_RATE, Assembly
from estimator.assemblies.tables import Tables
from estimator.errors import Faults, TablesFaulty, quoted
from estimator.money import HOUSE, exact_arithmetic, rounded
from estimator.rates.csv_file import csv_file_rows
from estimator.rates.public.public_wages import sourced
from estimator.rates.rows import Row

_COLUMNS = (
    "assembly", "work", "man_hours", "quantity", "unit", "counts", "date", "source", "status",
    "note",
)  # fmt: skip
_HOUR = "hr"


@dataclass(frozen=True)
class CrewBeside:
    """The labor of one unit of work as the tables have it, and as a public manual does.

    Parameters
    ----------
    assembly, unit : str
        Code, and what the hours are for.
    man_hours, public_man_hours : Decimal [hr/unit]
        At the crew's usual pace, and of the manual.
    work : str
        What the manual counts.
    source, note : str
        Of the public figure, and in what the work differs.
    """

    assembly: str
    unit: str
    man_hours: Decimal
    public_man_hours: Decimal
    work: str
    source: str
    note: str

    @property
    @exact_arithmetic
    def ratio(self) -> Decimal:
        """Hours of the tables over those of the manual; two decimals."""
        return rounded(HOUSE.divide(self.man_hours, self.public_man_hours), 2)


def crews_beside_public(tables: Tables, folder: Path) -> tuple[CrewBeside, ...]:
    """Return the assemblies whose man-hours a public manual has, in the order of the file.

    Parameters
    ----------
    tables : Tables
        Checked tables; an assembly that they replace by one without crew or usual pace is left out.
    folder : Path
        Of public figures: `public_folder()`.

    Raises
    ------
    TablesFaulty
        With every fault of the file.

    Notes
    -----
    Man-hours of a unit are the hands of the crew over its production rate: three at 20 ft an hour
    are 0.15 a foot. Where the manual counts the skilled hand only, so does the crew here.
    """
    faults = Faults()
    rows = list(csv_file_rows(folder / "production.csv", "public production", _COLUMNS, faults))
    known = tables.catalogue.assemblies
    beside = [_beside(row, known[row.code("assembly")], tables) for row in rows
              if row.code("assembly") in known]  # fmt: skip
    faults.raise_if_any(TablesFaulty)
    return tuple(one for one in beside if one is not None)


@exact_arithmetic
def _beside(row: Row, assembly: Assembly, tables: Tables) -> CrewBeside | None:
    pace = next((one for one in assembly.inputs if one.name == PRODUCTION_RATE), None)
    if pace is None or not pace.default or not assembly.crew:
        return None
    unit = row.text("unit")
    if pace.unit.name != f"{unit}/{_HOUR}":
        row.fault(f"unit {quoted(unit)} is not that of {pace.unit.name}")
    hours, quantity = (
        row.decimal(one, decimals=2) or Decimal(1) for one in ("man_hours", "quantity")
    )
    return CrewBeside(
        assembly=assembly.code, unit=unit,
        man_hours=rounded(_hands(assembly, row, tables) / pace.default, 4),
        public_man_hours=rounded(hours / quantity, 4), work=row.text("work"), source=sourced(row),
        note=row.text("note", required=False),
    )  # fmt: skip


def _hands(assembly: Assembly, row: Row, tables: Tables) -> Decimal:
    """Return how many hands of the crew the manual counts: all of its labor, or those named."""
    counted = row.text("counts", required=False)
    members = tables.crews[assembly.crew].members
    labor = [one for one in members if tables.rates.kind_of(one.resource) == "labor"]
    return sum((one.number for one in labor if counted in ("", one.resource)), Decimal(0))
