"""`groundsill machine`: what a machine of your own costs, and what renting one costs."""

from __future__ import annotations

from typing import Any

import click

from api.commands.body_options import body_at, calculated, colon_words, print_result
from api.commands.whole_help import Commands

_SOILS = ("sand or gravel", "common earth", "clay", "blasted rock")
_WEIGHTS = "BANK:LOOSE:COMPACTED in lb per cy, such as 2800:2295:3256."
_WEIGHTS_FORM = (("bank_lb_per_cy", "loose_lb_per_cy", "compacted_lb_per_cy"),)
# Where each option stands in the body of the service.
_OWN = {
    "value": "machine/value", "list_price": "bought/list_price",
    "discount": "bought/discount_fraction", "tax": "bought/tax_fraction",
    "weight": "bought/shipping_weight_cwt", "freight": "bought/freight_per_cwt",
    "life": "machine/life_hours", "hours_per_year": "machine/hours_per_year",
    "salvage": "machine/salvage_fraction", "horsepower": "running/horsepower",
    "power": "running/power_factor", "fuel": "running/fuel", "fuel_price": "running/fuel_per_gal",
    "service": "running/service_fraction", "repair": "running/repair_fraction",
    "money": "annual_rate_fraction", "rent": "rent_instead/rent_per_hr",
    "hours": "rent_instead/hours", "other": "rent_instead/other_per_year",
}  # fmt: skip
_RENT = {
    "days": "days", "meter_hours": "meter_hours", "day": "rates/day", "week": "rates/week",
    "month": "rates/month", "over_hour": "rates/over_hour", "delivery": "terms/delivery",
    "pickup": "terms/pick_up", "waiver": "terms/damage_waiver_fraction",
    "fuel": "terms/fuel_per_hr",
}  # fmt: skip
_LOADER = {
    "bucket": "bucket", "minutes": "cycle_minutes", "fill": "fill_factor",
    "efficiency": "efficiency", "truck": "truck/body", "away": "truck/away_minutes",
}  # fmt: skip
_ROLLER = {
    "width": "width_ft", "speed": "speed_mph", "lift": "lift_in", "passes": "passes",
    "efficiency": "efficiency", "flow": "flow_cy_per_hr",
}  # fmt: skip
_LOADS = {
    "soil": "soil", "weights": "weights", "truck": "truck/body_cy",
    "payload": "truck/payload_ton",
}  # fmt: skip
_STATES = ("bank", "loose", "compacted")
_json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON.")


@click.group(cls=Commands)
def machine() -> None:
    """Work out what a machine costs, your own or rented, and what it gets done."""


@machine.command()
@click.option("--value", metavar="$", help="Price delivered to your yard; or give --list-price.")
@click.option(
    "--list-price", metavar="$", help="List price with attachments, before discount and tax."
)
@click.option("--discount", metavar="FRACTION", help="Share of the list price: 0.075 is 7.5 %.")
@click.option("--tax", metavar="FRACTION", help="Sales tax on the discounted price: 0.07 is 7 %.")
@click.option("--weight", metavar="CWT", help="Shipping weight, in hundreds of pounds.")
@click.option("--freight", metavar="$/CWT", help="Freight to your yard, per 100 lb.")
@click.option("--life", required=True, metavar="HR", help="Hours it lasts.")
@click.option("--hours-per-year", required=True, metavar="HR", help="Hours it works in a year.")
@click.option(
    "--salvage", metavar="FRACTION", help="Share of the value left at the end: 0.20 is 20 %."
)
@click.option(
    "--money", required=True, metavar="FRACTION", help="Yearly cost of the money: 0.08 is 8 %."
)
@click.option("--horsepower", required=True, metavar="HP", help="Rated horsepower of the engine.")
@click.option(
    "--power", required=True, metavar="FRACTION", help="Share of the horsepower used, on average."
)
@click.option(
    "--fuel",
    type=click.Choice(("diesel", "gasoline")),
    default="diesel",
    show_default=True,
    help="What it burns.",
)
@click.option("--fuel-price", required=True, metavar="$/GAL", help="Price of fuel in the tank.")
@click.option(
    "--service", metavar="FRACTION", help="Filters, oil and grease, as a share of the fuel cost."
)
@click.option(
    "--repair", metavar="FRACTION", help="Repairs over its life, as a share of the value."
)
@click.option(
    "--rent", metavar="$/HR", help="Rent of the same machine, with damage waiver and hauling."
)
@click.option("--hours", metavar="HR", help="Hours in the year compared; else --hours-per-year.")
@click.option("--other", metavar="$", help="Insurance, storage and license of your own for a year.")
@_json_option
def own(*, as_json: bool, **options: Any) -> None:
    """Work out what your own machine costs an hour, and from how many hours a year owning pays.

    The operator is not included.
    """
    from api.calculations.machine import machine as machine_cost
    from api.calculations.machine_shapes import MachineAnswer, MachineToOwn
    from api.commands.machine_shown import show_owned
    from estimator.errors import EquipmentFaulty

    if options["rent"] is None and (options["hours"] or options["other"]):
        raise click.UsageError("--hours and --other go with --rent.")
    if options["rent"] is not None:
        options["hours"] = options["hours"] or options["hours_per_year"]
    result = calculated(machine_cost, MachineToOwn, body_at(_OWN, options), EquipmentFaulty, _OWN)
    print_result(result, MachineAnswer(), show_owned, as_json=as_json)


@machine.command()
@click.option("--days", type=int, required=True, metavar="DAYS", help="Calendar days on rent.")
@click.option("--day", metavar="$", help="Price of a day.")
@click.option("--week", metavar="$", help="Price of a week.")
@click.option("--month", metavar="$", help="Price of four weeks.")
@click.option("--meter-hours", metavar="HR", help="Hours on the meter, in all.")
@click.option("--over-hour", metavar="$/HR", help="Price of each meter hour beyond those included.")
@click.option("--delivery", metavar="$", help="Charge for bringing it.")
@click.option("--pickup", metavar="$", help="Charge for fetching it.")
@click.option(
    "--waiver", metavar="FRACTION", help="Damage waiver, as a share of the rent: 0.15 is 15 %."
)
@click.option("--fuel", metavar="$/HR", help="Fuel for a meter hour.")
@_json_option
def rent(*, as_json: bool, **options: Any) -> None:
    """Find the cheapest mix of days, weeks and months to rent a machine, and the bill."""
    from api.calculations.rental import rental
    from api.calculations.rental_shapes import RentalAnswer, RentalCost
    from api.commands.machine_shown import show_rental
    from estimator.errors import EquipmentFaulty

    if all(options[tier] is None for tier in ("day", "week", "month")):
        raise click.UsageError("Give --day, --week or --month.")
    result = calculated(rental, RentalCost, body_at(_RENT, options), EquipmentFaulty, _RENT)
    print_result(result, RentalAnswer(), show_rental, as_json=as_json)


@machine.command()
@click.option(
    "--bucket", required=True, metavar="CY", help="Struck capacity of the bucket, in cubic yards."
)
@click.option(
    "--fill", metavar="FACTOR", help="Full bucket over struck capacity; above 1 if it heaps."
)
@click.option(
    "--minutes", required=True, metavar="MIN", help="Minutes from one bucket to the next."
)
@click.option("--efficiency", metavar="FRACTION", help="Working share of an hour: 0.83 for 50 min.")
@click.option("--truck", metavar="CY", help="Loose cubic yards a truck holds; give --away, too.")
@click.option("--away", metavar="MIN", help="A truck's time from leaving the loader to being back.")
@_json_option
def loader(*, as_json: bool, **options: Any) -> None:
    """Work out what a loader moves in an hour, and how many trucks it fills."""
    from api.calculations.one_machine import loader as loader_output
    from api.calculations.one_machine_shapes import LoaderAnswer, LoaderToRun
    from api.commands.machine_shown import show_loader
    from estimator.errors import ProductionFaulty

    result = calculated(
        loader_output, LoaderToRun, body_at(_LOADER, options), ProductionFaulty, _LOADER
    )
    truck = options["truck"], options["away"]
    print_result(result, LoaderAnswer(), lambda one: show_loader(one, *truck), as_json=as_json)


@machine.command()
@click.option("--width", required=True, metavar="FT", help="Width of one pass, less the overlap.")
@click.option("--speed", required=True, metavar="MPH", help="Speed while it rolls.")
@click.option("--lift", required=True, metavar="IN", help="Compacted thickness of a lift.")
@click.option("--passes", type=int, required=True, metavar="NUMBER", help="Passes over each strip.")
@click.option("--efficiency", metavar="FRACTION", help="Working share of an hour: 0.83 for 50 min.")
@click.option(
    "--flow", metavar="CY/HR", help="Fill spread in an hour, in compacted yards, to keep up with."
)
@_json_option
def roller(*, as_json: bool, **options: Any) -> None:
    """Work out what a roller compacts in an hour, and how many it takes to keep up."""
    from api.calculations.one_machine import roller as roller_output
    from api.calculations.one_machine_shapes import RollerAnswer, RollerToRun
    from api.commands.machine_shown import show_roller
    from estimator.errors import ProductionFaulty

    result = calculated(
        roller_output, RollerToRun, body_at(_ROLLER, options), ProductionFaulty, _ROLLER
    )
    flow = options["flow"]
    print_result(result, RollerAnswer(), lambda one: show_roller(one, flow), as_json=as_json)


@machine.command()
@click.option(
    "--soil", type=click.Choice(_SOILS), help="Soil of US Army FM 5-434 (2000), Table 1-1."
)
@click.option("--weights", metavar="B:L:C", help=f"In place of --soil: {_WEIGHTS}")
@click.option("--bank", metavar="CY", help="Yards as it lies undisturbed.")
@click.option("--loose", metavar="CY", help="Yards dug and dumped.")
@click.option("--compacted", metavar="CY", help="Yards rolled or tamped.")
@click.option("--truck", metavar="CY", help="Loose yards that a truck's body holds.")
@click.option("--payload", metavar="TON", help="Tons that a truck may carry, with --weights.")
@_json_option
def loads(*, as_json: bool, **options: Any) -> None:
    """Work out earth in bank, loose and compacted yards, and its truckloads."""
    from api.calculations.soil import soil as soil_in_states
    from api.calculations.soil_shapes import SoilAnswer, SoilToMove
    from api.commands.machine_shown import show_soil
    from estimator.errors import GeometryFaulty

    if options["weights"] is not None:
        options["weights"] = colon_words(options["weights"], _WEIGHTS, _WEIGHTS_FORM)
    states = [one for one in _STATES if options[one] is not None]
    if not states:
        raise click.UsageError("Give --bank, --loose or --compacted.")
    volumes = [{"volume_cy": options[one], "state": one} for one in states]
    body = body_at(_LOADS, options) | {"volumes": volumes}
    paths = _LOADS | {one: f"volumes/{place}/volume_cy" for place, one in enumerate(states)}
    result = calculated(soil_in_states, SoilToMove, body, GeometryFaulty, paths)
    print_result(result, SoilAnswer(), show_soil, as_json=as_json)
