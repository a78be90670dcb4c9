"""Earth in the bank, loose and compacted, and how many truckloads it makes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from api.calculations.soil_shapes import SoilToMove, TruckOfSoil, WeightsOfSoil
from api.contract.commands import stated
from api.contract.places import faults_at, pointer
from estimator.errors import GeometryFaulty, fault

if TYPE_CHECKING:
    from estimator.quantity.takeoff.soil import SoilFactors

_ONE_SOIL = "name a soil of the table, or give its weights"


def soil(body: SoilToMove) -> dict[str, Any]:
    """Return what volumes of a soil come to in each state, and their truckloads.

    Parameters
    ----------
    body : SoilToMove
        The soil, its volumes as they were measured, and the truck.

    Raises
    ------
    GeometryFaulty
        If the soil is stated twice or not at all, or the payload without weights.
    """
    from estimator.quantity.takeoff.soil import State
    from estimator.quantity.takeoff.stated_volume import StatedVolume, together

    factors = _factors(body)
    with faults_at(pointer("volumes")):
        volumes = [
            StatedVolume(float(one.volume_cy), State(one.state), factors) for one in body.volumes
        ]
    in_state = {f"{one.value}_cy": together(volumes, one).volume_cy for one in State}
    loads = _loads(body.truck, body.weights, in_state) if body.truck else None
    return {**in_state, "truckloads": loads}


def _factors(body: SoilToMove) -> SoilFactors:
    from estimator.quantity.takeoff.soil import SOILS, soil_from_weights

    if (body.soil is None) == (body.weights is None):
        what = "is missing" if body.soil is None else "is given beside weights"
        raise fault(GeometryFaulty, what, _ONE_SOIL, pointer("soil"))
    if body.weights is not None:
        weights = {name: float(value) for name, value in stated(body.weights).items()}
        with faults_at(pointer("weights"), weights):
            return soil_from_weights("the soil", **weights)
    return SOILS[body.soil or ""]


def _loads(
    truck: TruckOfSoil, weights: WeightsOfSoil | None, in_state: dict[str, Any]
) -> dict[str, Any]:
    from estimator.quantity.takeoff.soil import loads_by_volume, loads_by_weight

    by_volume, by_weight = loads_by_volume(in_state["loose_cy"], float(truck.body_cy)), None
    if truck.payload_ton is not None:
        if weights is None:
            where = pointer("truck", "payload_ton")
            what = "is given without the weights of the soil"
            raise fault(GeometryFaulty, what, "give the weights, or leave it out", where)
        weight, payload = float(weights.bank_lb_per_cy), float(truck.payload_ton)
        by_weight = loads_by_weight(in_state["bank_cy"], weight, payload)
    return {
        "by_volume": by_volume,
        "by_weight": by_weight,
        "needed": max(by_volume, by_weight or 0),
    }
