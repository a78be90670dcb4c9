"""A folder of rate tables, written whole or not at all, and never over what is there."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

from estimator.errors import TablesFaulty, fault
from estimator.money import rate_text
from estimator.rates.folders import COLUMNS
from estimator.rates.rents import RENTS, Rent
from estimator.rates.resources import ResourceRate


def table_text(columns: Sequence[str], rows: Iterable[Mapping[str, str]]) -> str:
    r"""Return a table as CSV: quotes only where needed, lines that end in a line feed.

    Examples
    --------
    >>> table_text(("code", "note"), [{"code": "sand", "note": "washed, dry"}])
    'code,note\nsand,"washed, dry"\n'
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([row.get(column, "") for column in columns] for row in rows)
    return text.getvalue()


def resources_text(rates: Iterable[ResourceRate]) -> str:
    """Return rows of resources as the text of a resources.csv."""
    return table_text(COLUMNS["resources.csv"], [_cells(rate) for rate in rates])


def rents_text(rents: Iterable[Rent]) -> str:
    """Return rents as the text of a rents.csv."""
    return table_text(COLUMNS[RENTS], [_rent_cells(rent) for rent in rents])


def _rent_cells(rent: Rent) -> dict[str, str]:
    def price(amount: Decimal | None) -> str:
        return f"{amount:.2f}" if amount else ""

    return {
        "resource": rent.resource,
        "week": price(rent.week),
        "month": price(rent.month),
        "delivery": price(rent.delivery),
        "pick_up": price(rent.pick_up),
        "brought_by": rent.brought_by,
        "included_hours": f"{rent.included_hours.normalize():f}",
        "over_hour": rate_text(rent.over_hour) if rent.over_hour else "",
        "date": rent.set_on.isoformat(),
        "valid_until": "" if rent.valid_until is None else rent.valid_until.isoformat(),
        "source": rent.source,
        "note": rent.note,
    }


def _cells(rate: ResourceRate) -> dict[str, str]:
    return {
        "code": rate.code,
        "name": rate.name,
        "kind": rate.kind,
        "unit": rate.unit.name,
        "rate": rate_text(rate.rate),
        "low": "" if rate.low is None else rate_text(rate.low),
        "high": "" if rate.high is None else rate_text(rate.high),
        "date": rate.set_on.isoformat(),
        "valid_until": "" if rate.valid_until is None else rate.valid_until.isoformat(),
        "paid": "yes" if rate.is_paid else "no",
        "source": rate.source,
        "note": rate.note,
    }


def write_folder(folder: Path, files: Mapping[str, str]) -> None:
    """Write a new folder of tables, whole or not at all.

    Parameters
    ----------
    folder : Path
        Must not exist, or be empty; the folder above it must exist.
    files : mapping of str to str
        Text by file name.

    Raises
    ------
    TablesFaulty
        If the folder holds something, is not a folder, or cannot be written.

    Notes
    -----
    The files go to a hidden folder beside it, which is then renamed: that happens at once.
    """
    refuse_occupied(folder)
    try:
        with TemporaryDirectory(prefix=".writing-", dir=folder.absolute().parent) as beside:
            unfinished = Path(beside) / "whole"
            unfinished.mkdir()
            for name, text in files.items():
                with (unfinished / name).open("w", encoding="utf-8", newline="") as file:
                    file.write(text)
                    file.flush()
                    os.fsync(file.fileno())
            unfinished.replace(folder)
    except OSError as error:
        raise fault(
            TablesFaulty,
            f"the folder cannot be written: {(error.strerror or str(error)).lower()}",
            "name a new folder in one that exists and may be written to",
            str(folder),
        ) from error


def refuse_occupied(folder: Path) -> None:
    """Raise if a folder is there and holds something, or is not a folder.

    Raises
    ------
    TablesFaulty
        With the reason.
    """
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise fault(TablesFaulty, "is not a folder", "name a new one", str(folder))
    if folder.is_dir() and any(folder.iterdir()):
        raise fault(
            TablesFaulty,
            "holds files already, and nothing is ever written over them",
            "name a new folder",
            str(folder),
        )
