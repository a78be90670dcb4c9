"""Cautions: the sentence shown beside work that can hurt someone, and who decides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.errors import Faults
from estimator.rates.folders import TableFolder, keyed_rows
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
    return {
        code: Caution(code, row.text("caution"), row.text("defer_to"), row.source(), row.origin)
        for code, row in keyed_rows(folders, "cautions.csv", "code", "caution", faults)
    }
