"""The cycle of one carrier: what it does from one load to the next, and how long each step takes.

A carrier is whatever brings a load and comes back for another: a skid steer, a truck, a hand with a
barrow. A step takes minutes, or as long as a flow needs for the load; it may need one place of a
station (a loader, an opening in the wall, a pump), or none, as travel does.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from estimator.errors import Faults, ProductionFaulty, fault, quoted
from estimator.production.number_check import Number, check_numbers, faults_under, number_inputs
from estimator.quantity.rounding import whole_below
from estimator.quantity.units import unit

FEET_PER_MINUTE_AT_ONE_MPH = 88.0


@number_inputs()
@dataclass(frozen=True)
class Load:
    """What one carrier brings at a time.

    Parameters
    ----------
    size : float
        In `unit`.
    unit : str
        Of the material, as in docs/units.md: `ton`, `cy`, `bag`.

    Raises
    ------
    ProductionFaulty
        If the size is not above zero, or the unit is unknown.
    """

    size: Number
    unit: str

    def __post_init__(self) -> None:
        faults = Faults()
        with faults_under("load", faults):
            check_numbers(size=self.size)
        with faults_under("load", faults):
            unit(self.unit)
        faults.raise_if_any(ProductionFaulty)


@number_inputs()
@dataclass(frozen=True)
class Step:
    """A step of fixed length.

    Parameters
    ----------
    name : str
        As the crew calls it: load, haul, dump.
    minutes : float [min]
        Working minutes, without waiting for the station.
    station : str
        The station of which it needs one place; empty if it needs none.
    """

    name: str
    minutes: Number
    station: str = ""

    def __post_init__(self) -> None:
        check_numbers(where=f"step {quoted(self.name)}", minutes=self.minutes)

    def minutes_for(self, load: Load) -> float:  # noqa: ARG002
        """Return the minutes of the step [min], whatever the load."""
        return self.minutes


@number_inputs()
@dataclass(frozen=True)
class FlowStep:
    """A step that lasts as long as a flow takes to move the load: a belt, a pump, a crew.

    Parameters
    ----------
    name : str
        As the crew calls it: throw, pump.
    rate_per_hr : float [unit/hr]
        Of a working hour: the efficiency of the system is taken off later.
    unit : str
        Of the same kind as the load's; pounds and tons are converted, tons and yards are not.
    station : str
        The station of which it needs one place; empty if it needs none.

    Raises
    ------
    ProductionFaulty
        If the rate is not above zero, or the unit is unknown.
    """

    name: str
    rate_per_hr: Number
    unit: str
    station: str = ""

    def __post_init__(self) -> None:
        faults, where = Faults(), f"step {quoted(self.name)}"
        with faults_under(where, faults):
            check_numbers(rate_per_hr=self.rate_per_hr)
        with faults_under(where, faults):
            unit(self.unit)
        faults.raise_if_any(ProductionFaulty)

    def minutes_for(self, load: Load) -> float:
        """Return how long the flow takes for a load [min].

        Raises
        ------
        ProductionFaulty
            If the flow and the load are measured in different kinds of units.

        Examples
        --------
        >>> FlowStep("belt", 45.0, "ton").minutes_for(Load(18.0, "ton"))
        24.0
        """
        held = load.size * _conversion(load.unit, self.unit, f"step {quoted(self.name)}")
        return flow_minutes(held, self.rate_per_hr)


@number_inputs()
@dataclass(frozen=True)
class TravelStep:
    """A step of travel at a speed; a one-lane ramp or doorway is its station.

    Parameters
    ----------
    name : str
        As the crew calls it: haul, return.
    distance_ft : float [ft]
        One way.
    speed_mph : float [mile/hr]
        On average, with starting and stopping.
    station : str
        The station of which it needs one place; empty if it needs none.
    """

    name: str
    distance_ft: Number
    speed_mph: Number
    station: str = ""

    def __post_init__(self) -> None:
        where = f"step {quoted(self.name)}"
        check_numbers(where=where, distance_ft=self.distance_ft, speed_mph=self.speed_mph)

    def minutes_for(self, load: Load) -> float:  # noqa: ARG002
        """Return the minutes on the way [min], whatever the load.

        Examples
        --------
        >>> TravelStep("haul", 264.0, 3.0).minutes_for(Load(18.0, "ton"))
        1.0
        """
        return travel_minutes(self.distance_ft, self.speed_mph)


CycleStep = Step | FlowStep | TravelStep


@number_inputs()
def travel_minutes(distance_ft: Number, speed_mph: Number) -> float:
    """Return how long a way takes at a speed [min].

    Parameters
    ----------
    distance_ft : float [ft]
        One way.
    speed_mph : float [mile/hr]
        On average, with starting and stopping.

    Notes
    -----
    t = distance / (88 x speed): one mile an hour is 88 feet a minute.

    References
    ----------
    US Army FM 5-434, Earthmoving Operations (2000), para 3-28.

    Examples
    --------
    >>> round(travel_minutes(800.0, 25.0), 2)
    0.36
    """
    check_numbers(distance_ft=distance_ft, speed_mph=speed_mph)
    return distance_ft / (FEET_PER_MINUTE_AT_ONE_MPH * speed_mph)


@number_inputs()
def flow_minutes(quantity: Number, rate_per_hr: Number) -> float:
    """Return how long a flow takes for a quantity [min].

    Parameters
    ----------
    quantity : float [unit]
        What flows.
    rate_per_hr : float [unit/hr]
        How much of it in a working hour.

    Examples
    --------
    >>> flow_minutes(8.0, 30.0)
    16.0
    """
    check_numbers(quantity=quantity, rate_per_hr=rate_per_hr)
    return 60.0 * quantity / rate_per_hr


@number_inputs()
def passes_that_fit(body: Number, bucket: Number) -> int:
    """Return how many whole buckets a truck's body takes without spilling.

    Parameters
    ----------
    body, bucket : float [unit]
        What the truck holds and what the loader's bucket holds, in the same unit.

    Raises
    ------
    ProductionFaulty
        If a number is not above zero, or not one bucket fits.

    Notes
    -----
    floor(body / bucket). The truck leaves with passes x bucket, not with a full body.

    References
    ----------
    Reclamation-bond worksheet 9, state filing (2016).

    Examples
    --------
    >>> passes_that_fit(78.0, 16.0), passes_that_fit(2.1, 0.7)
    (4, 3)
    """
    check_numbers(body=body, bucket=bucket)
    passes = int(whole_below(np.asarray(body / bucket)))
    if passes < 1:
        raise fault(ProductionFaulty, "holds more than the body", "take a smaller bucket", "bucket")
    return passes


def cycle_minutes(cycle: tuple[CycleStep, ...], load: Load) -> float:
    """Return the time from one load to the next, with no waiting anywhere [min].

    Raises
    ------
    ProductionFaulty
        If a flow does not fit the load's unit.

    Examples
    --------
    >>> cycle_minutes((Step("load", 2.8), Step("haul", 5.6)), Load(64.0, "cy"))
    8.399999999999999
    """
    return sum(step.minutes_for(load) for step in cycle)


def _conversion(one_name: str, wanted: str, where: str) -> float:
    """Return how many wanted units a given one holds; counts of different things never convert."""
    one, other = unit(one_name), unit(wanted)
    same_kind = one.dimension == other.dimension and one.is_count == other.is_count
    if not same_kind or (one.is_count and one.name != other.name):
        raise fault(
            ProductionFaulty,
            f"counts {other.name} but the load is in {one.name}",
            "give both in one unit, by the density of the material",
            where,
        )
    return float(one.factor / other.factor)
