"""Cautions: the sentence shown beside work that can hurt someone, and who decides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.errors import Faults
from estimator.rates.folders import TableFolder, table_rows
from estimator.rates.rows import Origin


@dataclass(frozen=True)
class Caution:
    """A caution by its code.

    Parameters
    ----------
    code : str
        Key.
    caution : str
        The sentence that is shown.
    defer_to : str
        Whose judgment replaces the program's: a licensed person or a local code.
    source : str
        The regulation or practice it comes from.
    origin : Origin
        The row it stands in.
    """

    code: str
    caution: str
    defer_to: str
    source: str
    origin: Origin


def read_cautions(folders: Sequence[TableFolder], faults: Faults) -> dict[str, Caution]:
    """Return the cautions by code from a stack of sets, lowest first, noting all faults."""
    cautions: dict[str, Caution] = {}
    for row in table_rows(folders, "cautions.csv", faults):
        code = row.code("code")
        known = cautions.get(code)
        if known and known.origin.tables == row.origin.tables:
            row.fault(f"repeats caution '{code}' of row {known.origin.row}")
        cautions[code] = Caution(
            code, row.text("caution"), row.text("defer_to"), row.source(), row.origin
        )
    return cautions
