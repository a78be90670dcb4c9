"""What one loader or roller does in an hour, and how many trucks or rollers it takes."""

from __future__ import annotations

from typing import Any

from api.calculations.one_machine_shapes import LoaderToRun, RollerToRun
from api.contract.commands import stated
from api.contract.places import ROOT, faults_at, pointer


def loader(body: LoaderToRun) -> dict[str, Any]:
    """Return the output of a loader, and how it fills trucks.

    Parameters
    ----------
    body : LoaderToRun
        Bucket and cycle, and the truck if there is one.

    Raises
    ------
    ProductionFaulty
        If not one bucket fits the truck.
    """
    from estimator.production.machine_output import cyclic_output_per_hr, truck_loading

    with faults_at(ROOT, stated(body)):
        output = cyclic_output_per_hr(
            body.bucket, body.cycle_minutes, body.efficiency, body.fill_factor
        )
    loading = None
    if body.truck:
        with faults_at(pointer("truck"), stated(body.truck)):
            loading = truck_loading(
                body.truck.body, body.bucket, body.cycle_minutes, body.truck.away_minutes,
                body.fill_factor,
            )  # fmt: skip
    return {"output_per_hr": output, "truck": vars(loading) if loading else None}


def roller(body: RollerToRun) -> dict[str, Any]:
    """Return the output of a roller, and how many of them keep up with what is spread.

    Parameters
    ----------
    body : RollerToRun
        Width, speed, layer and passes.

    Raises
    ------
    ProductionFaulty
        If a number is absurd.
    """
    from estimator.production.machine_output import machines_to_keep_up, roller_output_cy_per_hr

    with faults_at(ROOT, stated(body)):
        output = roller_output_cy_per_hr(
            body.width_ft, body.speed_mph, body.lift_in, body.passes, body.efficiency
        )
        flow = body.flow_cy_per_hr
        return {
            "output_cy_per_hr": output,
            "rollers": None if flow is None else machines_to_keep_up(flow, output),
        }
