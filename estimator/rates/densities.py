"""Densities of materials, each with its state (bank, loose, compacted, in place) and source."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import Faults
from estimator.quantity.units import Unit, dimension_words, unit
from estimator.rates.folders import TableFolder, keyed_rows
from estimator.rates.rows import Origin, Row

STATES = ("bank", "loose", "compacted", "in place")


@dataclass(frozen=True)
class Density:
    """Weight per volume of a material in one state; sources disagree, so the source stays with it.

    Parameters
    ----------
    material : str
        Key.
    density : Decimal
        In `unit`, positive.
    unit : Unit
        A weight per volume.
    state : str
        One of `STATES`.
    source : str
        Where it comes from.
    origin : Origin
        The row it stands in.
    """

    material: str
    density: Decimal
    unit: Unit
    state: str
    source: str
    origin: Origin


def read_densities(folders: Sequence[TableFolder], faults: Faults) -> dict[str, Density]:
    """Return the densities by material from a stack of sets, lowest first, noting all faults."""
    rows = keyed_rows(folders, "densities.csv", "material", "material", faults)
    return {material: _density(material, row) for material, row in rows}


def _density(material: str, row: Row) -> Density:
    density = Density(
        material=material,
        density=row.decimal("density", decimals=4) or Decimal(0),
        unit=row.unit("unit"),
        state=row.choice("state", STATES),
        source=row.source(),
        origin=row.origin,
    )
    row.day("date", required=False)
    if density.unit.dimension != unit("ton/cy").dimension:
        words = dimension_words(density.unit.dimension)
        row.fault(f"unit '{density.unit.name}' is {words}, not weight per volume", "write ton/cy")
    if not density.density:
        row.fault("density is zero")
    return density
