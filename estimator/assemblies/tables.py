"""All rate tables together, from a stack of folders, checked and ready to price with."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

from estimator.assemblies.assembly import Assembly, AssemblyLine
from estimator.assemblies.catalogue import Catalogue, read_catalogue
from estimator.assemblies.markups import Markup, read_markups
from estimator.assemblies.needs import crew_lines
from estimator.digests import canonical_digest
from estimator.errors import Faults, TablesFaulty
from estimator.production.crews import Crew, read_crews
from estimator.rates.folders import COLUMNS, TableFolder, check_folder
from estimator.rates.precision import UnitPrecision, read_unit_precision
from estimator.rates.rents import RentTable, read_rents
from estimator.rates.resources import RateTable, read_resources


@dataclass(frozen=True)
class Tables:
    """A checked stack of rate tables.

    Parameters
    ----------
    sets : tuple of str
        Names of the sets, lowest first.
    rates : RateTable
        Rates of resources.
    crews : mapping of str to Crew
        Crews by code.
    catalogue : Catalogue
        Assemblies and cautions.
    markups : mapping of str to Markup
        Markups by code.
    precision : UnitPrecision
        Printed decimals by unit.
    digest : str
        SHA-256 of the contents of all files, in order of sets and file names.
    rents : RentTable
        Rents by the week and by four weeks.
    """

    sets: tuple[str, ...]
    rates: RateTable
    crews: Mapping[str, Crew]
    catalogue: Catalogue
    markups: Mapping[str, Markup]
    precision: UnitPrecision
    digest: str
    rents: RentTable = field(default_factory=RentTable)

    def lines_of(self, assembly: Assembly, crew: str) -> tuple[AssemblyLine, ...]:
        """Return the lines of an assembly done by a crew, the crew's members first."""
        return (*self._members[crew], *assembly.lines) if crew else assembly.lines

    @cached_property
    def _members(self) -> Mapping[str, tuple[AssemblyLine, ...]]:
        return {code: crew_lines(crew, self.rates) for code, crew in self.crews.items()}


def load_tables(folders: Sequence[TableFolder]) -> Tables:
    """Return the tables of a stack of folders, lowest first: shipped, regional, project quotes.

    Raises
    ------
    TablesFaulty
        With every fault of every file at once.
    """
    faults = Faults()
    tables = read_tables(folders, faults)
    faults.raise_if_any(TablesFaulty)
    return tables


def read_tables(folders: Sequence[TableFolder], faults: Faults) -> Tables:
    """Return the tables of a stack of folders, noting all faults; not to be priced with if any."""
    for folder in folders:
        check_folder(folder, faults)
    tables, of_tables = _read(_Stack(_digest(folders), tuple(folders)))
    if of_tables.entries:
        _read.cache_clear()  # tables with faults are not read again as they are
        faults.take("", TablesFaulty(of_tables.entries, of_tables.more))
    return tables


@dataclass(frozen=True)
class _Stack:
    """Folders that are alike where their names and all that they hold are."""

    digest: str
    folders: tuple[TableFolder, ...] = field(compare=False)


@lru_cache(maxsize=4)
def _read(stack: _Stack) -> tuple[Tables, Faults]:
    folders, faults = stack.folders, Faults()
    rates = read_resources(folders, faults)
    crews = read_crews(folders, rates, faults)
    precision = read_unit_precision(folders, faults)
    tables = Tables(
        sets=tuple(folder.name for folder in folders),
        rates=rates,
        crews=crews,
        catalogue=read_catalogue(folders, rates, crews, precision, faults),
        markups=read_markups(folders, faults),
        precision=precision,
        digest=stack.digest,
        rents=read_rents(folders, rates, faults),
    )
    return tables, faults


def unused_resources(tables: Tables) -> tuple[str, ...]:
    """Return the codes of resources that no assembly and no crew uses: a note, not a fault."""
    in_lines = {
        line.resource
        for assembly in tables.catalogue.assemblies.values()
        for line in assembly.lines
    }
    in_crews = {member.resource for crew in tables.crews.values() for member in crew.members}
    return tuple(code for code in tables.rates.codes if code not in in_lines | in_crews)


def _digest(folders: Sequence[TableFolder]) -> str:
    sets = [[folder.name, _file_digests(folder)] for folder in folders]
    return canonical_digest("rate tables 1", sets)


def _file_digests(folder: TableFolder) -> dict[str, str]:
    return {
        file: hashlib.sha256(folder.content(file)).hexdigest()
        for file in COLUMNS
        if folder.has(file)
    }
