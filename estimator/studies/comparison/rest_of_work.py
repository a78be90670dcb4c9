"""The rest of a work of which a part is done: a share of it, or the upper lifts of a fill."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import (
    CREW_HOURS,
    LEAST_DAYS,
    PRODUCTION_RATE,
    QUANTITY,
    SHIFT,
    Assembly,
)
from estimator.assemblies.needs import worked_out
from estimator.errors import MethodsFaulty, fault, quoted
from estimator.quantity.depth_profile import DepthProfile
from estimator.scope.input_value import InputValue
from estimator.scope.level import DEPTH
from estimator.scope.methods.rising_fill import depths_of_ground
from estimator.studies.comparison.method_prices import working_values
from estimator.studies.comparison.prepared_method import PreparedMethod

_HAIR = 1e-9


def rest_of(prepared: PreparedMethod, left: float) -> PreparedMethod:
    """Return a method for what is left of its work.

    Parameters
    ----------
    prepared : PreparedMethod
        The method, for the whole work.
    left : float
        Of the whole work, above 0 and below 1.

    Raises
    ------
    MethodsFaulty
        If no measure of the assembly is in proportion to its quantity.

    Notes
    -----
    A fill that waits for each lift has placed its lower ones: what is left is as deep as its top is
    above what has been placed, and waits for the lifts in it. Of any other work a share is left:
    the first length, area or count that the quantity is in proportion to is taken at that share.
    Bought work takes that share of the days that it is said to take.
    """
    days = prepared.method.days
    if days is not None:
        shorter = InputValue(days.value * Fraction(left), days.text)
        prepared = replace(prepared, method=replace(prepared.method, days=shorter))
    depth = prepared.method.inputs.get(DEPTH)
    if depth is not None and _waits_by_depth(prepared.assembly) and _goes_with(prepared, DEPTH):
        upper = _upper_part(depth, left)
        return replace(
            prepared,
            method=replace(prepared.method, inputs={**prepared.method.inputs, DEPTH: upper}),
            inputs={**prepared.inputs, DEPTH: np.asarray(upper.base_value)},
        )
    name = measure_in_proportion(prepared)
    return replace(prepared, inputs={**prepared.inputs, name: prepared.inputs[name] * left})


def measure_in_proportion(prepared: PreparedMethod) -> str:
    """Return the first input of an assembly that its quantity is in proportion to.

    Raises
    ------
    MethodsFaulty
        If there is none.
    """
    for one in prepared.assembly.inputs:
        if not (one.is_derived or one.unit.is_proportion) and _goes_with(prepared, one.name):
            return one.name
    raise fault(
        MethodsFaulty,
        f"{quoted(prepared.assembly.code)} has no measure that its quantity is in proportion to",
        "give the rest as an item of its own",
        quoted(prepared.method.name),
    )


def observed_rate(rest: PreparedMethod, days_left: float) -> npt.NDArray[np.float64]:
    """Return the production rate at which a method does the rest in the days that are left.

    Parameters
    ----------
    rest : PreparedMethod
        The method, for what is left.
    days_left : float [day]
        That this takes at the observed pace.

    Notes
    -----
    A part of its hours goes down as the rate goes up, whatever else the assembly counts in it:
    passes, coats. The other part stays: setting up.
    """
    rest = replace(rest, method=replace(rest.method, delays=None))
    rate = rest.inputs.get(PRODUCTION_RATE, np.ones(()))
    hours, at_double = (
        np.ravel(working_values(rest, {**rest.inputs, PRODUCTION_RATE: rate * times})[CREW_HOURS])
        for times in (1.0, 2.0)
    )
    observed = days_left * float(rest.inputs[SHIFT])
    by_the_rate = 2.0 * (hours - at_double)
    left_for_it = observed - (hours - by_the_rate)
    if by_the_rate[0] <= 0.0 or left_for_it[0] <= 0.0:
        return np.asarray(rate * hours / observed)
    return np.asarray(rate * by_the_rate / left_for_it)


def _goes_with(prepared: PreparedMethod, name: str) -> bool:
    """Whether the quantity is in proportion to an input."""
    shares = np.array([1.0, 0.5, 0.25])
    inputs = {**prepared.inputs, name: prepared.inputs[name] * shares}
    with np.errstate(all="ignore"):
        quantity = worked_out(prepared.assembly, False, inputs)[QUANTITY]
    quantity = np.broadcast_to(quantity, (3,))
    return np.allclose(quantity, quantity[0] * shares, rtol=_HAIR, atol=0.0)


def _waits_by_depth(assembly: Assembly) -> bool:
    """Whether the days that work waits follow from a depth, directly or through others."""
    formulas = dict(assembly.steps)
    names, waiting = set(), {LEAST_DAYS}
    while waiting:
        name = waiting.pop()
        names.add(name)
        if name in formulas:
            waiting |= formulas[name].names - names
    return DEPTH in names


def _upper_part(depth: InputValue, left: float) -> InputValue:
    """Return the depths that are left where a fill has risen to one level from the deepest up."""
    mean = depth.base_value * left
    value = Fraction(mean)
    if depth.profile is None:
        return InputValue(value, depth.text)
    depths, parts = depths_of_ground(depth)
    levels = np.unique(np.append(depths, 0.0))
    volumes = np.minimum(depths, levels[:, None]) @ parts
    level = float(np.interp(mean, volumes, levels))
    rest = np.minimum(np.array(depth.profile.relative) * depth.base_value, level)
    relative = rest / (rest @ np.array(depth.profile.shares))
    profile = DepthProfile(tuple(relative.tolist()), depth.profile.shares, level / mean)
    return InputValue(value, depth.text, profile)
