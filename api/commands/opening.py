"""Opening a scope file with the rate tables that it is to be priced with."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from estimator.errors import ScopeFaulty, TablesFaulty, fault, quoted

if TYPE_CHECKING:
    from estimator.assemblies.tables import Tables
    from estimator.pricing.estimate import Estimate
    from estimator.rates.folders import TableFolder
    from estimator.scope.located import Located
    from estimator.scope.scope import Scope

REGIONAL = "regional"
QUOTES = "quotes"


@dataclass(frozen=True)
class Opened:
    """A scope with its tables and the pricing date."""

    scope: Scope
    tables: Tables
    on: date


def open_scope(path: Path, rates: Path | None, on: datetime | None) -> Opened:
    """Return a scope with its tables: shipped, then `rates`, then the quotes the scope names.

    Raises
    ------
    ScopeFaulty, WorkbookRefused
        If the scope has faults.
    TablesFaulty
        If the tables have faults.
    """
    from estimator.scope.scope_reader import quotes_folder, read_scope

    written = _written(path)
    quotes = quotes_folder(written)
    tables = open_tables(rates, path.parent / quotes if quotes else None)
    scope = read_scope(written, tables)
    return Opened(scope, tables, on.date() if on else scope.on or date.today())


def open_tables(rates: Path | None, quotes: Path | None = None) -> Tables:
    """Return the shipped tables with those of a folder, and project quotes, laid over them."""
    from estimator.assemblies.tables import load_tables

    return load_tables(table_folders(rates, quotes))


def table_folders(rates: Path | None, quotes: Path | None = None) -> list[TableFolder]:
    """Return the stack of folders, lowest first."""
    from estimator.rates.folders import TableFolder, shipped_tables

    folders = [shipped_tables()]
    if rates is not None and rates.resolve() != folders[0].path.resolve():
        folders.append(TableFolder(REGIONAL, rates))
    if quotes is not None:
        if not quotes.is_dir():
            raise fault(TablesFaulty, f"the folder of quotes {quoted(quotes)} is not there")
        folders.append(TableFolder(QUOTES, quotes))
    return folders


def priced(opened: Opened) -> Estimate:
    """Return the estimate of an opened scope."""
    from estimator.pricing.estimate import price

    return price(opened.scope, opened.tables, opened.on)


def _written(path: Path) -> Located:
    if path.suffix.lower() in (".yaml", ".yml"):
        from estimator.scope.scope_yaml import read_yaml

        return read_yaml(path.read_bytes(), path.name)
    if path.suffix.lower() == ".xlsx":
        from estimator.workbook.scope.scope_reader import read_scope_workbook

        return read_scope_workbook(path.read_bytes(), path.name)
    raise fault(ScopeFaulty, f"{quoted(path.name)} is not a scope", "give a .yaml or .xlsx file")
