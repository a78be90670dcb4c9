"""Units in names: a bare number carries its unit in its name throughout the house.

`length_ft` is in feet, `coverage_sf_per_gal` in square feet a gallon. So a text with a unit of its
own can stand for the number wherever the name says which kind of unit is meant.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from estimator.errors import GeometryFaulty, MeasureFaulty, fault, quoted
from estimator.quantity.measures import read_measure
from estimator.quantity.units import unit

_UNITS = {
    name: name
    for name in ("ft", "in", "lf", "sf", "sy", "cf", "cy", "bf", "lb", "ton", "gal", "hr", "mph")
} | {"hours": "hr", "minutes": "min", "days": "day"}
_IN_BARE_NUMBERS_ONLY = ("_deg", "_mils", "_per_100_sf", "_spikes_hit", "working_days")


def unit_in_name(name: str) -> str:
    """Return the unit that a name carries, or `ea` for a count or proportion.

    Examples
    --------
    >>> unit_in_name("length_ft"), unit_in_name("coverage_sf_per_gal"), unit_in_name("coats")
    ('ft', 'sf/gal', 'ea')
    """
    before, per, after = name.partition("_per_")
    if not per:
        return _last_unit(before)
    return f"{_last_unit(before)}/{_last_unit(after)}".removesuffix("/ea")


def number_of_text(name: str, text: str, unit_name: str = "") -> float:
    """Return a text as the bare number that a parameter of that name takes.

    Parameters
    ----------
    name : str
        The parameter, which carries its unit; without one it is a count or a share, and the text a
        bare number or a percentage.
    text : str
        A measure with any unit of the same kind.
    unit_name : str
        The unit, where something else than the name says it.

    Raises
    ------
    MeasureFaulty
        If the text is no measure of that kind.

    Examples
    --------
    >>> number_of_text("thickness_in", "1/2 ft"), number_of_text("waste_fraction", "5 %")
    (6.0, 0.05)
    """
    if name.endswith(_IN_BARE_NUMBERS_ONLY):
        raise fault(MeasureFaulty, f"{quoted(text)} is text", "enter the bare number")
    named = unit_name or unit_in_name(name)
    wanted = unit("fraction" if named == "ea" else named)
    return float(read_measure(text, wanted).in_unit(wanted))


def without_texts(name: str, value: Any) -> Any:
    """Return a number or list of numbers as it is, but each text in it as its number.

    A truth value is no number, though Python adds it up as one.

    Parameters
    ----------
    name : str
        The parameter, which carries its unit.
    value : number, text, or list or array of them
        Everything but texts is left to whoever takes the numbers.

    Raises
    ------
    GeometryFaulty
        If a text is no measure of the kind that the name says, or a value is True or False.

    Examples
    --------
    >>> without_texts("depth_ft", ["30 in", 3])
    [2.5, 3]
    """
    if isinstance(value, str):
        try:
            return number_of_text(name, value)
        except MeasureFaulty as faulty:
            raise GeometryFaulty(replace(one, where=name) for one in faulty.faults) from None
    if isinstance(value, (bool, np.bool_)):
        raise fault(GeometryFaulty, "is not a number", "enter it as 12.5", name)
    if isinstance(value, (list, tuple)):
        return [without_texts(name, one) for one in value]
    return value


def _last_unit(words: str) -> str:
    if words.endswith("sq_in"):
        return "sq in"
    return next((_UNITS[word] for word in reversed(words.split("_")) if word in _UNITS), "ea")
