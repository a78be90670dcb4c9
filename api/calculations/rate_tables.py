"""Rate tables to calculate with, from texts: those that ship, and others laid over them.

Tables are read and checked once and kept for the next request, the last few of them, known by
their names and whole content.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache, lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from estimator.errors import TablesFaulty, fault, quoted

if TYPE_CHECKING:
    from estimator.assemblies.tables import Tables
    from estimator.rates.folders import TableFolder

SHIPPED = "shipped"
QUOTES = "quotes"
MOST_KEPT = 8

# Texts of CSV by file name.
Texts = Mapping[str, str]
_Known = tuple[tuple[str, tuple[tuple[str, str], ...]], ...]


def tables_with(quotes: Texts | None) -> Tables:
    """Return the shipped rate tables, with quotes laid over them if there are any.

    Parameters
    ----------
    quotes : mapping of str to str, or None
        Text of CSV by file name.

    Raises
    ------
    TablesFaulty
        With every fault of the quotes at once.
    """
    return tables_of({SHIPPED: shipped_texts()} | ({QUOTES: quotes} if quotes else {}))


def tables_of(files: Mapping[str, Texts]) -> Tables:
    """Return tables from the texts of their files, the same digest whenever they are loaded.

    Parameters
    ----------
    files : mapping of str to mapping of str to str
        Sets, lowest first: name, and texts of CSV by file name.

    Raises
    ------
    TablesFaulty
        With every fault at once.
    """
    return _loaded(tuple((name, tuple(sorted(texts.items()))) for name, texts in files.items()))


@cache
def shipped_texts() -> Texts:
    """Return the texts of the tables that are installed with the program."""
    from estimator.rates.folders import COLUMNS, shipped_tables

    found = {file: shipped_tables().path / file for file in COLUMNS}
    return {
        file: path.read_bytes().decode() for file, path in found.items() if path.is_file()
    }  # fmt: skip


@lru_cache(MOST_KEPT)
def _loaded(sets: _Known) -> Tables:
    from estimator.assemblies.tables import load_tables

    with table_folders({name: dict(texts) for name, texts in sets}) as folders:
        return load_tables(folders)


@contextmanager
def table_folders(files: Mapping[str, Texts]) -> Iterator[list[TableFolder]]:
    """Give sets of tables as the folders that the library reads, until the `with` ends.

    Raises
    ------
    TablesFaulty
        If a text has a name that is not a table's; such a name is never used as a path.
    """
    from estimator.rates.folders import TableFolder

    with TemporaryDirectory() as folder:
        places = [Path(folder) / str(number) for number in range(len(files))]
        for place, texts in zip(places, files.values(), strict=True):
            _write(place, texts)
        yield [TableFolder(name, place) for name, place in zip(files, places, strict=True)]


def _write(folder: Path, texts: Texts) -> None:
    from estimator.rates.folders import COLUMNS

    folder.mkdir()
    for file, text in texts.items():
        if file not in COLUMNS:
            remedy = f"known are {', '.join(COLUMNS)}"
            raise fault(TablesFaulty, f"{quoted(file)} is not a rate table", remedy)
        (folder / file).write_text(text, encoding="utf-8", newline="")
