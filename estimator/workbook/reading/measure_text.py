"""A measure cell as the located text that a scope file has: one measure, depths, or spot depths."""

from __future__ import annotations

import re

from estimator.scope.input_reader import SPOTS
from estimator.scope.located import Listing, Located, Section, Text

# A comma between three digits and another digit belongs to the number: 1,900 sf.
_BETWEEN_VALUES = re.compile(r"(?<![0-9]),|,(?![0-9]{3}(?![0-9]))")
_SPOT_VALUES = 3


def measure_cell(text: str, where: str) -> Located:
    """Return what a measure cell says.

    Parameters
    ----------
    text : str
        `62 ft 6 in`; several depths `2 ft; 6 ft 3 in`; or spots of x, y and depth
        `0 ft, 0 ft, 1 ft; 62 ft 6 in, 0 ft, 5 ft; ...`.
    where : str
        Where the cell stands.

    Examples
    --------
    >>> measure_cell("1,900 sf", "D5")
    Text(value='1,900 sf', where='D5')
    >>> [depth.value for depth in measure_cell("2 ft; 6 ft 3 in", "D5").parts]
    ['2 ft', '6 ft 3 in']
    """
    parts = [part.strip() for part in text.split(";") if part.strip()]
    values = [[value.strip() for value in _BETWEEN_VALUES.split(part)] for part in parts]
    if any(len(one) == _SPOT_VALUES for one in values) or (
        len(parts) > 1 and any(len(one) > 1 for one in values)
    ):
        spots = tuple(_listing(one, where) for one in values)
        return Section({SPOTS: Listing(spots, where)}, where)
    return Text(text.strip(), where) if len(parts) < 2 else _listing(parts, where)


def _listing(texts: list[str], where: str) -> Listing:
    return Listing(tuple(Text(text, where) for text in texts), where)
