"""Opening a scope file with the rate tables that it is to be priced with.

Above every other floor of the library: a scope may be a workbook, whose reader stands high.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, cast

from estimator.errors import Faults, ScopeFaulty, TablesFaulty, fault, quoted

if TYPE_CHECKING:
    from estimator.assemblies.tables import Tables
    from estimator.rates.folders import TableFolder
    from estimator.scope.located import Located
    from estimator.scope.other_times import OtherTimes
    from estimator.scope.scope import Scope

SAMPLE_SCOPE = Path(__file__).parent / "sample" / "harrow-lane-carbarn.yaml"
NEW_PROJECT = SAMPLE_SCOPE.parent / "new-project"


class OpenedScope(NamedTuple):
    """A scope with its tables and the pricing date, in the order in which `price` takes them.

    Parameters
    ----------
    scope : Scope
        What is to be priced.
    tables : Tables
        What it is priced with.
    on : date
        The pricing date.
    """

    scope: Scope
    tables: Tables
    on: date


class ScopeAsWritten(NamedTuple):
    """A scope file as plain JSON, and the texts of its tables.

    Parameters
    ----------
    scope : dict
        What it says.
    tables : dict of str to dict of str to str
        Of each set, lowest first: text by file name.
    """

    scope: dict[str, Any]
    tables: dict[str, dict[str, str]]


def open_scope(
    path: str | Path,
    rates: Path | None = None,
    on: date | None = None,
    today: date | None = None,
    times: OtherTimes | None = None,
) -> OpenedScope:
    """Return a scope with its tables: shipped, then `rates`, then the quotes the scope names.

    Parameters
    ----------
    path : str or Path
        A scope file, .yaml or .xlsx.
    rates : Path or None
        A folder of your own tables, over the shipped ones; the one that the scope names where it
        is left out.
    on : date or None
        The pricing date; the one that the scope names where it is left out.
    today : date or None
        The pricing date where neither says one; the library reads no clock.
    times : OtherTimes or None
        A first day, a week and a crew that go before those of the scope.

    Raises
    ------
    ScopeFaulty, WorkbookRefused
        If the scope has faults, or there is no pricing date.
    TablesFaulty
        If the tables have faults.
    """
    _, scope, tables = _read(Path(path), rates, times)
    day = on or scope.on or today
    if day is None:
        raise fault(ScopeFaulty, "no pricing date is named", "give `on`, or write it in the scope")
    return OpenedScope(scope, tables, day)


def converted_scope(path: Path, rates: Path | None = None) -> bytes:
    """Return a scope in its other form: YAML as a workbook, a workbook as YAML.

    Parameters
    ----------
    path : Path
        A scope file, .yaml or .xlsx.
    rates : Path or None
        As of `open_scope`; a workbook offers what these tables have.

    Raises
    ------
    ScopeFaulty, TablesFaulty, WorkbookRefused
        If the scope or its tables have faults, or it does not fit into a workbook.
    """
    written, _, tables = _read(path, rates)
    if path.suffix.lower() == ".xlsx":
        from estimator.scope.located import without_places
        from estimator.scope.scope_text import scope_text

        return scope_text(cast("dict[str, Any]", without_places(written))).encode()
    from estimator.workbook.scope.scope_template import scope_bytes

    return scope_bytes(written, tables)


def _read(
    path: Path, rates: Path | None, times: OtherTimes | None = None
) -> tuple[Located, Scope, Tables]:
    """Return what a scope file says, the scope and its tables, or raise all that is wrong.

    With tables that have faults the scope is read too, so that the faults of both come at once.
    """
    from estimator.assemblies.tables import read_tables
    from estimator.scope.other_times import with_other_times
    from estimator.scope.scope_reader import read_scope

    faults, of_tables = Faults(), Faults()
    written = _written(path, faults)
    try:
        tables = read_tables(_named_folders(path, written, rates, of_tables), of_tables)
    except TablesFaulty as error:
        faults.take("", error)
        raise TablesFaulty(faults.entries, faults.more) from error
    faults.take("", TablesFaulty(of_tables.entries, of_tables.more))
    error_type = TablesFaulty if of_tables.entries else ScopeFaulty
    try:
        scope = read_scope(with_other_times(written, times) if times else written, tables)
    except ScopeFaulty as error:
        faults.take("", error)
        raise error_type(faults.entries, faults.more) from error
    faults.raise_if_any(error_type)
    return written, scope, tables


def scope_as_written(path: Path, rates: Path | None = None) -> ScopeAsWritten:
    """Return what a scope file says with the texts of its tables, to be stored elsewhere.

    Parameters
    ----------
    path, rates : Path, Path or None
        As for `open_scope`.

    Raises
    ------
    ScopeFaulty, WorkbookRefused, TablesFaulty
        If the file cannot be read, or a folder is not there.
    """
    from estimator.rates.folders import COLUMNS
    from estimator.scope.located import without_places

    faults = Faults()
    written = _written(path, faults)
    folders = _named_folders(path, written, rates, faults)
    faults.raise_if_any(ScopeFaulty)
    texts = {
        one.name: {file: one.content(file).decode() for file in COLUMNS if one.has(file)}
        for one in folders
    }
    plain = without_places(written)
    assert isinstance(plain, dict)
    return ScopeAsWritten(plain, texts)


def _named_folders(
    path: Path, written: Located, rates: Path | None, faults: Faults
) -> list[TableFolder]:
    """Return the stack of tables that a scope file is priced with, lowest first."""
    from estimator.scope.named_folders import named_folders

    named = named_folders(written, faults)
    if rates is None and named.rates:
        rates = path.parent / named.rates
    return _folders(rates, path.parent / named.quotes if named.quotes else None, faults)


def open_tables(rates: Path | None = None, quotes: Path | None = None) -> Tables:
    """Return the shipped tables with those of a folder, and project quotes, laid over them.

    Parameters
    ----------
    rates, quotes : Path or None
        Folders of CSV tables; the later one goes first.

    Raises
    ------
    TablesFaulty
        If the tables have faults.
    """
    from estimator.assemblies.tables import load_tables

    return load_tables(table_folders(rates, quotes))


def table_folders(rates: Path | None, quotes: Path | None = None) -> list[TableFolder]:
    """Return the stack of folders, lowest first.

    Raises
    ------
    TablesFaulty
        If a folder is not there.
    """
    faults = Faults()
    folders = _folders(rates, quotes, faults)
    faults.raise_if_any(TablesFaulty)
    return folders


def _folders(rates: Path | None, quotes: Path | None, faults: Faults) -> list[TableFolder]:
    """Return the stack of folders that are there, noting those that are not."""
    from estimator.rates.folders import QUOTES, TableFolder, shipped_tables

    folders = [shipped_tables()]
    if rates is not None and rates.resolve() != folders[0].path.resolve():
        folders.append(TableFolder(_set_name(rates), rates))
    if quotes is not None:
        folders.append(TableFolder(QUOTES, quotes))
    for one in folders:
        if not one.path.is_dir():
            kind = "quotes" if one.name == QUOTES else "rates"
            what = f"the folder of {kind} {quoted(one.path.name)} is not there"
            faults.add("", what, "codes that only it has count as unknown")
    return [one for one in folders if one.path.is_dir()]


def _set_name(folder: Path) -> str:
    """Return what a set of rates is called: its folder's own name, if no other set has that."""
    from estimator.rates.folders import QUOTES, SHIPPED

    name = folder.resolve().name or str(folder)
    return f"own {name}" if name in (SHIPPED, QUOTES) else name


def _written(path: Path, faults: Faults) -> Located:
    if path.suffix.lower() in (".yaml", ".yml"):
        from estimator.scope.scope_yaml import read_yaml

        return read_yaml(path.read_bytes(), path.name, faults)
    if path.suffix.lower() == ".xlsx":
        from estimator.workbook.scope.scope_reader import read_scope_workbook

        return read_scope_workbook(path.read_bytes(), path.name, faults=faults)
    raise fault(ScopeFaulty, f"{quoted(path.name)} is not a scope", "give a .yaml or .xlsx file")
