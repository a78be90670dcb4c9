"""Dimensions at the door of the take-off: finite, not negative, and fitting together.

Every take-off function passes its dimensions through here once; the arithmetic after that is bare.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

import numpy as np
import numpy.typing as npt

from estimator.errors import Faults, GeometryFaulty, fault
from estimator.quantity.named_units import without_texts
from estimator.quantity.rounding import whole_above

Numbers = float | npt.NDArray[np.float64]

LARGEST = 1e9
SMALLEST = 1e-9


def dimensions(
    *, may_be_zero: Collection[str] = (), fractions: Collection[str] = (), **by_name: npt.ArrayLike
) -> tuple[Numbers, ...]:
    """Return the given dimensions as floats or float64 arrays, in the order given.

    Parameters
    ----------
    may_be_zero : collection of str
        Names of those that may be zero; the others must be positive.
    fractions : collection of str
        Names of those that are shares of a whole, 0 to 1.
    **by_name : float or array
        Dimensions under the names that a fault tells; arrays must broadcast together.

    Raises
    ------
    GeometryFaulty
        With one fault for each that is not a number, not finite, negative, zero, or absurdly
        small or large (10^-9, 10^9), for each share above 1, and one if arrays have lengths that
        do not fit together.

    Notes
    -----
    An array of float64 is not copied, and comes back read-only; smallest and largest value tell
    whether all are sound, and only a fault is looked into further.

    Examples
    --------
    >>> dimensions(length_ft="62 ft 6 in", depth_ft=[0, 3], may_be_zero=["depth_ft"])
    (62.5, array([0., 3.]))
    """
    faults = Faults()
    values = [_numbers(name, value, faults) for name, value in by_name.items()]
    for name, value in zip(by_name, values, strict=True):
        least = 0.0 if name in may_be_zero or name in fractions else SMALLEST
        most = 1.0 if name in fractions else LARGEST
        if not _lie_between(value, least, most):
            _tell_range(name, value, least, most, faults)
    _check_shapes(by_name.keys(), values, faults)
    faults.raise_if_any(GeometryFaulty)
    return tuple([float(value) if value.ndim == 0 else _read_only(value) for value in values])


def whole_count(numbers: Numbers) -> Numbers:
    """Return the whole number of loads, bars or sheets that is enough, of a number or an array.

    Examples
    --------
    >>> whole_count(8.4 / 2.8), whole_count(2.01)
    (3.0, 3.0)
    """
    return float_or_array(whole_above(np.asarray(numbers)))


def float_or_array(numbers: Numbers) -> Numbers:
    """Return an array of no dimension, which numpy makes of floats, as a float.

    Examples
    --------
    >>> float_or_array(np.maximum(1.0, 2.0)), float_or_array(np.maximum([1.0, 3.0], 2.0))
    (2.0, array([2., 3.]))
    """
    return float(numbers) if np.ndim(numbers) == 0 else numbers


def number_array(name: str, value: object) -> npt.NDArray[np.float64]:
    """Return a number, a text with its unit, or a list or array of them as a float64 array.

    Raises
    ------
    GeometryFaulty
        If it is anything else: a truth value, a date, an array of texts, lists of uneven length.

    Examples
    --------
    >>> number_array("depth_ft", ["30 in", 3])
    array([2.5, 3. ])
    """
    try:
        numbers = np.asarray(without_texts(name, value))
        if numbers.dtype.kind in "iuf" or _are_objects_to_convert(numbers):
            return numbers.astype(np.float64, copy=False)
    except OverflowError:
        raise fault(GeometryFaulty, "is too large", "at most 1,000,000,000", name) from None
    except (TypeError, ValueError):
        pass
    raise fault(GeometryFaulty, "is not a number or an even list of numbers", where=name)


def _are_objects_to_convert(values: npt.NDArray[Any]) -> bool:
    """Whether numpy has objects, such as decimals, and none that a float is made of by mistake."""
    is_mistaken = (isinstance(one, (str, bytes, bool)) for one in values.flat)
    return values.dtype.kind == "O" and not any(is_mistaken)


def _numbers(name: str, value: npt.ArrayLike, faults: Faults) -> npt.NDArray[np.float64]:
    try:
        return number_array(name, value)
    except GeometryFaulty as faulty:
        faults.take("", faulty)
        return np.ones(())


def _lie_between(value: npt.NDArray[np.float64], least: float, most: float) -> bool:
    """Whether all values do; a NaN is the smallest and the largest of its array, and does not."""
    if value.ndim == 0:
        return least <= float(value) <= most
    if value.size == 0:
        return True
    flat = value.ravel()  # numpy reduces one axis a third faster than "all axes"
    return bool(np.minimum.reduce(flat) >= least and np.maximum.reduce(flat) <= most)


def _tell_range(
    name: str, value: npt.NDArray[np.float64], least: float, most: float, faults: Faults
) -> None:
    if not np.all(np.isfinite(value)):
        faults.add(name, "is not a finite number", "measure it again")
    elif np.any(value < 0):
        faults.add(name, "is negative", "enter it without the minus sign")
    elif np.any(value == 0) and least > 0:
        faults.add(name, "is zero", "enter a dimension above zero, or leave the item out")
    elif np.any(value < least):
        faults.add(name, "is too small to be measured", "check its unit")
    elif most == 1.0:
        faults.add(name, "is above 1", "enter 25 % as 0.25")
    else:
        faults.add(name, "is too large", "at most 1,000,000,000")


def _read_only(value: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    guarded = value.view()
    guarded.setflags(write=False)
    return guarded


def _check_shapes(
    names: Collection[str], values: list[npt.NDArray[np.float64]], faults: Faults
) -> None:
    if len({value.shape for value in values if value.ndim}) < 2:
        return
    try:
        np.broadcast_shapes(*(value.shape for value in values))
    except ValueError:
        faults.add(", ".join(names), "have different numbers of values", "give each the same count")
