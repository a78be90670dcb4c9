"""How large machines are by class: the widest and highest of each, as they drive."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from estimator.errors import Faults, TablesFaulty
from estimator.rates.csv_file import csv_file_rows
from estimator.rates.public.public_wages import public_folder

_COLUMNS = ("class", "width", "height", "source", "note")


@cache
def machine_sizes() -> Mapping[str, tuple[str, str]]:
    """Return width and height of each class of machine, as they are written: `5 ft 9 in`.

    The largest of the class counts, so that what passes on paper passes on the site.

    Examples
    --------
    >>> machine_sizes()["skid steer"]
    ('5 ft 9 in', '6 ft 8 in')
    """
    faults = Faults()
    path = public_folder() / "machine_sizes.csv"
    rows = csv_file_rows(path, "machine sizes", _COLUMNS, faults)
    sizes = {row.text("class"): (row.text("width"), row.text("height")) for row in rows}
    faults.raise_if_any(TablesFaulty)
    return sizes
