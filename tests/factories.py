"""Builders of small folders of rate tables and of scopes; every number in them is invented."""

import csv
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from estimator.assemblies.tables import Tables, load_tables, read_tables
from estimator.errors import Faults
from estimator.pricing.cost_line import CostLine
from estimator.rates.folders import COLUMNS, TableFolder
from estimator.scope.located import Listing, Located, Section, Text
from estimator.scope.scope import Scope
from estimator.scope.scope_reader import read_scope

Row = Mapping[str, str]
Rows = Sequence[Row]

SPRING = date(2026, 4, 1)

MADE_FOLDER = Path(__file__).parent / "made"


def _rows(path: Path) -> list[Row]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


MADE: dict[str, Rows] = {path.stem: _rows(path) for path in sorted(MADE_FOLDER.glob("*.csv"))}


def write_folder(path: Path, tables: Mapping[str, Rows], name: str = "made") -> TableFolder:
    """Write a set of tables; a row names only the cells that are not empty."""
    path.mkdir(parents=True, exist_ok=True)
    for stem, rows in tables.items():
        columns = COLUMNS[f"{stem}.csv"]
        with (path / f"{stem}.csv").open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, columns, restval="")
            writer.writeheader()
            writer.writerows({"source": "invented"} | row for row in rows)
    return TableFolder(name, path)


def with_rows(stem: str, *rows: Row) -> dict[str, Rows]:
    """Return the made tables with rows added to one of them."""
    return MADE | {stem: (*MADE[stem], *rows)}


def with_cells(stem: str, number: int, /, **cells: str) -> dict[str, Rows]:
    """Return the made tables with cells of one row changed; rows count as in a spreadsheet."""
    rows = list(MADE[stem])
    rows[number - 2] = rows[number - 2] | cells
    return MADE | {stem: rows}


def made_tables(path: Path, tables: Mapping[str, Rows] = MADE) -> Tables:
    """Return checked tables from a folder that is written for them."""
    return load_tables([write_folder(path / "made", tables)])


def faults_in(path: Path, tables: Mapping[str, Rows]) -> list[str]:
    """Return the faults of a set of tables as sentences."""
    return faults_of(write_folder(path / "made", tables))


def faults_of(*folders: TableFolder) -> list[str]:
    """Return the faults of a stack of folders as sentences."""
    faults = Faults()
    read_tables(folders, faults)
    return [str(fault) for fault in faults.entries]


def located(value: object, where: str = "scope") -> Located:
    """Return plain texts, lists and dictionaries as located text."""
    if isinstance(value, Mapping):
        return Section({k: located(v, f"{where} {k}") for k, v in value.items()}, where)
    if isinstance(value, list | tuple):
        return Listing(tuple(located(part, where) for part in value), where)
    return Text(str(value), where)


def item(code: str, assembly: str, **inputs: object) -> dict[str, object]:
    """Return an item as a scope writes it."""
    return {"code": code, "name": f"Work {code}", "assembly": assembly, "inputs": inputs}


def scope_of(tables: Tables, phases: Mapping[str, Sequence[object]], **more: object) -> Scope:
    """Return a scope of phases by code, each with its items."""
    listed = [{"code": code, "name": code, "items": items} for code, items in phases.items()]
    return scope_with(tables, listed, **more)


def scope_with(tables: Tables, phases: Sequence[object], **more: object) -> Scope:
    """Return a scope of phases as a scope writes them."""
    return read_scope(located({"project": "Test barn", "phases": phases, **more}), tables)


def cost_line(
    item, line, assembly, resource, name, kind, unit, decimals, ordered, rate, cents, is_paid
):
    """Return a cost line without waste, of which nothing is left over."""
    return CostLine(
        item.partition(".")[0], item, line, assembly, resource, name, kind, unit, decimals,
        net=ordered, waste=0, left_over=0, ordered=ordered, rate=rate, source="invented",
        rate_row="made resources.csv row 2", is_paid=is_paid, cents=cents,
    )  # fmt: skip
