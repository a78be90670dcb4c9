"""What one machine does in an hour, and how many of them keep up with another."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from estimator.errors import ProductionFaulty, fault
from estimator.production.cycle import passes_that_fit
from estimator.production.number_check import (
    Count,
    Number,
    check_count,
    check_numbers,
    number_inputs,
)
from estimator.quantity.rounding import whole_above

_FEET_PER_MILE = 5280.0
_INCHES_PER_FOOT = 12.0
_CUBIC_FEET_PER_YARD = 27.0
_MOST_PASSES = 1000


@dataclass(frozen=True)
class TruckLoading:
    """How a loader fills trucks, and how many of them it takes.

    Parameters
    ----------
    passes : int
        Whole buckets of a truck.
    truck_load : float [unit]
        What the truck leaves with: not a full body.
    load_minutes : float [min]
        The loader's time for one truck.
    trucks : int
        That a field manual sends, one of them waiting ready: `trucks_by_field_manual`.
    """

    passes: int
    truck_load: float
    load_minutes: float
    trucks: int


@number_inputs()
def cyclic_output_per_hr(
    load: Number, cycle_minutes: Number, efficiency: Number = 1.0, fill_factor: Number = 1.0
) -> float:
    """Return what a machine moves in an hour when it works in cycles [unit/hr].

    Parameters
    ----------
    load : float [unit]
        Of each cycle: the struck bucket or the body.
    cycle_minutes : float [min]
        From one load to the next.
    efficiency : float
        Working share of an hour, 0 to 1; 50/60 for the fifty-minute hour.
    fill_factor : float
        Of a bucket: above 1 where the material heaps.

    Notes
    -----
    Q = load x fill x 60 / cycle x efficiency.

    References
    ----------
    US Army FM 5-434, Earthmoving Operations (2000), para 5-15.

    Examples
    --------
    >>> round(cyclic_output_per_hr(2.5, 0.475, 50 / 60, fill_factor=1.05), 1)
    276.3
    """
    check_numbers(
        load=load,
        cycle_minutes=cycle_minutes,
        efficiency=efficiency,
        fill_factor=fill_factor,
        fractions=("efficiency",),
    )
    return load * fill_factor * 60.0 / cycle_minutes * efficiency


@number_inputs()
def roller_output_cy_per_hr(
    width_ft: Number, speed_mph: Number, lift_in: Number, passes: Count, efficiency: Number = 1.0
) -> float:
    """Return the compacted earth or stone that a roller leaves in an hour [cy/hr].

    Parameters
    ----------
    width_ft : float [ft]
        Of one pass, less the overlap.
    speed_mph : float [mile/hr]
        While it rolls.
    lift_in : float [in]
        Compacted thickness of a layer.
    passes : int
        How often each strip is rolled.
    efficiency : float
        Working share of an hour, 0 to 1.

    Notes
    -----
    Q = W x 5280 S x L/12 / 27 x E / P = 16.296 W S L E / P; manuals print 16.3.

    References
    ----------
    US Army FM 5-434, Earthmoving Operations (2000), ch. 11.

    Examples
    --------
    >>> round(roller_output_cy_per_hr(5.0, 6.0, 6.0, 5, 0.83), 1)
    486.9
    """
    check_numbers(
        width_ft=width_ft,
        speed_mph=speed_mph,
        lift_in=lift_in,
        efficiency=efficiency,
        fractions=("efficiency",),
    )
    check_count("passes", passes, _MOST_PASSES)
    depth_ft = lift_in / _INCHES_PER_FOOT
    rolled_cy = width_ft * _FEET_PER_MILE * speed_mph * depth_ft / _CUBIC_FEET_PER_YARD
    return rolled_cy * efficiency / passes


@number_inputs()
def machines_to_keep_up(flow_per_hr: Number, output_per_hr: Number) -> int:
    """Return how many machines are enough for a flow.

    Parameters
    ----------
    flow_per_hr, output_per_hr : float [unit/hr]
        What comes, and what one machine does, in the same unit and state of the material.

    Examples
    --------
    >>> machines_to_keep_up(1500.0 * 0.87, 487.0)
    3
    """
    check_numbers(flow_per_hr=flow_per_hr, output_per_hr=output_per_hr)
    return int(whole_above(np.asarray(flow_per_hr / output_per_hr)))


@number_inputs()
def trucks_by_field_manual(load_minutes: Number, truck_cycle_minutes: Number) -> int:
    """Return how many trucks a field manual sends, one more than keep the loader busy on paper.

    Parameters
    ----------
    load_minutes : float [min]
        The loader's time for one truck.
    truck_cycle_minutes : float [min]
        The truck's whole cycle, loading included.

    Raises
    ------
    ProductionFaulty
        If a number is not above zero, or loading takes longer than the whole cycle.

    Notes
    -----
    N = 1 + cycle / load, raised to a whole truck: one waits ready while another is loaded. What
    the extra truck is worth, `production_range` tells.

    References
    ----------
    US Army FM 5-434, Earthmoving Operations (2000), para 10-10.

    Examples
    --------
    >>> trucks_by_field_manual(0.5, 20.5)
    42
    """
    check_numbers(load_minutes=load_minutes, truck_cycle_minutes=truck_cycle_minutes)
    if load_minutes > truck_cycle_minutes:
        raise fault(
            ProductionFaulty,
            "is longer than the whole cycle",
            "the cycle is loading, haul, dump and return",
            "load_minutes",
        )
    return 1 + int(whole_above(np.asarray(truck_cycle_minutes / load_minutes)))


@number_inputs()
def truck_loading(
    body: Number,
    bucket: Number,
    bucket_minutes: Number,
    away_minutes: Number,
    fill_factor: Number = 1.0,
) -> TruckLoading:
    """Return how a loader fills trucks that are away for some time.

    Parameters
    ----------
    body, bucket : float [unit]
        What a truck holds and a struck bucket, in the same unit.
    bucket_minutes : float [min]
        The loader's cycle.
    away_minutes : float [min]
        A truck's time from leaving the loader to being back.
    fill_factor : float
        Of a bucket: above 1 where the material heaps.

    Raises
    ------
    ProductionFaulty
        If a number is not above zero, or not one bucket fits.

    Examples
    --------
    >>> loading = truck_loading(78.0, 16.0, 0.7, 5.6)
    >>> loading.passes, loading.truck_load, loading.load_minutes, loading.trucks
    (4, 64.0, 2.8, 4)
    """
    check_numbers(
        bucket=bucket,
        bucket_minutes=bucket_minutes,
        away_minutes=away_minutes,
        fill_factor=fill_factor,
    )
    held = bucket * fill_factor
    passes = passes_that_fit(body, held)
    minutes = passes * bucket_minutes
    trucks = trucks_by_field_manual(minutes, minutes + away_minutes)
    return TruckLoading(passes, passes * held, minutes, trucks)
