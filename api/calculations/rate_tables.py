"""Rate tables to calculate with: those that ship, and a project's own quotes over them.

Tables are read and checked once and kept for the next request; of those with quotes the last few
are, known by their whole content.
"""

from __future__ import annotations

from functools import cache, lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from estimator.errors import TablesFaulty, fault, quoted

if TYPE_CHECKING:
    from collections.abc import Mapping

    from estimator.pricing.tables import Tables

QUOTES = "quotes"
MOST_KEPT = 8


def tables_with(quotes: Mapping[str, str] | None) -> Tables:
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
    return _with_quotes(tuple(sorted(quotes.items()))) if quotes else _shipped()


@cache
def _shipped() -> Tables:
    from estimator.pricing.tables import load_tables
    from estimator.rates.folders import shipped_tables

    return load_tables([shipped_tables()])


@lru_cache(MOST_KEPT)
def _with_quotes(quotes: tuple[tuple[str, str], ...]) -> Tables:
    from estimator.pricing.tables import load_tables
    from estimator.rates.folders import COLUMNS, TableFolder, shipped_tables

    unknown = [name for name, _ in quotes if name not in COLUMNS]
    if unknown:
        remedy = f"known are {', '.join(COLUMNS)}"
        raise fault(TablesFaulty, f"{quoted(unknown[0])} is not a rate table", remedy)
    with TemporaryDirectory() as folder:
        for name, text in quotes:
            (Path(folder) / name).write_text(text, encoding="utf-8", newline="")
        return load_tables([shipped_tables(), TableFolder(QUOTES, Path(folder))])
