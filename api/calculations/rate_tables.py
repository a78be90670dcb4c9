"""Rate tables to calculate with, from texts: those that ship, and others laid over them.

Tables are read and checked once and cached for the next request, the last few of them, known by
their names and whole content.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from estimator.rates.folders import QUOTES, SHIPPED

if TYPE_CHECKING:
    from estimator.assemblies.tables import Tables
    from estimator.rates.folders import TableFolder

MOST_CACHED = 8

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

    shipped = shipped_tables()
    return {file: shipped.content(file).decode() for file in COLUMNS if shipped.has(file)}


@lru_cache(MOST_CACHED)
def _loaded(sets: _Known) -> Tables:
    from estimator.assemblies.tables import load_tables

    return load_tables(sent_folders({name: dict(texts) for name, texts in sets}))


def sent_folders(files: Mapping[str, Texts]) -> list[TableFolder]:
    """Return sets of tables, lowest first, as the library takes them."""
    from estimator.rates.folders import TableFolder

    return [TableFolder(name, texts=texts) for name, texts in files.items()]
