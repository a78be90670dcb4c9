"""What a machine costs, on the terminal."""

from __future__ import annotations

from typing import Any

from api.commands.printing import hanging, page, show_table, table
from estimator.errors import how_many
from estimator.money import money_text
from estimator.quantity.units import counted

_ELEMENTS = {
    "depreciation": "Depreciation",
    "cost_of_money": "Cost of the money in it",
    "fuel": "Fuel",
    "filters_oil_grease": "Filters, oil and grease",
    "tire_wear": "Tire wear",
    "tire_repair": "Tire repair",
    "repair": "Repair",
    "total": "An hour of work, without the operator",
    "standby": "An hour of standby",
}
_BILL = {
    "rent": "Rent",
    "over_hours": "Hours beyond the included",
    "damage_waiver": "Damage waiver",
    "environmental_fee": "Environmental fee",
    "delivery": "Delivery",
    "pick_up": "Pickup",
    "fuel": "Fuel",
    "total": "Bill, without sales tax",
}


def show_owned(result: dict[str, Any]) -> None:
    """Print an hour of a machine of one's own, and the year beside the rented one."""
    with page() as out:
        rows = table(
            (f"An hour of your own machine, worth {money_text(result['value'])}", "text"),
            ("Cost", "number"),
        )
        for name, label in _ELEMENTS.items():
            if result[name]:
                gallons = f", {result['fuel_gal_per_hr']:.2f} gal" if name == "fuel" else ""
                rows.add_row(f"{label}{gallons}", money_text(result[name]))
        show_table(out, rows)
        if result["year"]:
            out.print()
            hanging(out, "", "", _year_sentence(result["year"]))


def _year_sentence(year: dict[str, Any]) -> str:
    compared = (
        f"With {year['hours'].normalize():,f} hours a year your own costs "
        f"{money_text(year['owned'])}, a rented one {money_text(year['rented'])}. "
    )
    from_hours = year["break_even_hours"]
    if from_hours is None:
        words = "its running hour costs at least as much as the rented one"
        return f"{compared}Owning never pays: {words}."
    return f"{compared}Owning costs no more from {from_hours:,f} hours a year on."


def show_rental(result: dict[str, Any]) -> None:
    """Print the cheapest mix, its bill, and where a longer term takes over."""
    with page() as out:
        parts = [(result[f"{tier}s"], tier) for tier in ("month", "week", "day")]
        mix = ", ".join(counted(str(count), tier) for count, tier in parts if count)
        out.print(f"Cheapest for {counted(str(result['span_days']), 'day')}: {mix}\n")
        rows = table(("Bill", "text"), ("Cost", "number"))
        for name, label in _BILL.items():
            if result["bill"][name]:
                rows.add_row(label, money_text(result["bill"][name]))
        show_table(out, rows)
        out.print()
        for one in result["break_even"]:
            out.print(
                f"One {one['longer']} costs no more than "
                f"{counted(str(one['count']), one['shorter'])}."
            )
        for one in result["tiers_from"]:
            if one["days"] > 1:
                days, tier = one["days"], one["tier"]
                out.print(
                    f"The cheapest mix first has a {tier} in it at {days} days, over-hours aside."
                )


def show_loader(result: dict[str, Any], truck: str | None, away: str | None) -> None:
    """Print what a loader moves, and how it fills trucks."""
    with page() as out:
        out.print(f"The loader moves {result['output_per_hr']:,.1f} cy an hour.")
        if one := result["truck"]:
            buckets = how_many(one["passes"], "bucket")
            out.print(
                f"A truck of {truck} cy takes {buckets}, {one['truck_load']:,.1f} cy in "
                f"{one['load_minutes']:,.1f} minutes."
            )
            hanging(
                out, "", "",
                f"With trucks that are away for {away} minutes send {one['trucks']}: as many as "
                "keep it busy, and one that waits ready.",
            )  # fmt: skip


def show_roller(result: dict[str, Any], flow: str | None) -> None:
    """Print what a roller compacts, and how many keep up."""
    with page() as out:
        out.print(f"The roller compacts {result['output_cy_per_hr']:,.1f} cy an hour.")
        if rollers := result["rollers"]:
            many = how_many(rollers, "roller")
            out.print(f"It takes {many} to keep up with {flow} compacted cy an hour.")


def show_soil(result: dict[str, Any]) -> None:
    """Print earth in its three states, and its truckloads."""
    with page() as out:
        out.print(
            f"{result['bank_cy']:,.1f} cy in the bank, {result['loose_cy']:,.1f} cy loose, "
            f"{result['compacted_cy']:,.1f} cy compacted."
        )
        if loads := result["truckloads"]:
            out.print(f"Truckloads: {loads['needed']:,.0f}{_what_limits(loads)}.")


def _what_limits(loads: dict[str, Any]) -> str:
    if loads["by_weight"] is None:
        return ", by volume"
    by_volume, by_weight = f"{loads['by_volume']:,.0f}", f"{loads['by_weight']:,.0f}"
    return f"; {by_volume} by volume, {by_weight} by weight"
