"""Crews beside public man-hours, and machines beside public hourly figures, as printed."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from rich.console import Console

    from estimator.assemblies.public_production import CrewBeside
    from estimator.rates.public.public_machines import MachineBeside


def print_crews(out: Console, crews: Sequence[CrewBeside]) -> None:
    """Print the labor of one unit of work as the tables have it beside that of public manuals."""
    from api.commands.printing import sentences, show_table, table

    if not crews:
        return
    rows = table(
        ("Assembly", "code"), ("Unit", "code"), ("Hours\nhere", "number"),
        ("Public\nhours", "number"), ("Here /\npublic", "number"),
        ("What the manual counts", "text"),
    )  # fmt: skip
    for one in crews:
        rows.add_row(
            one.assembly, one.unit, f"{one.man_hours:f}", f"{one.public_man_hours:f}",
            f"{one.ratio:f}", one.work,
        )  # fmt: skip
    out.print("\nMan-hours of one unit of work\n")
    show_table(out, rows)
    sentences(out, "What differs", [f"{one.assembly}: {one.note}" for one in crews if one.note])
    sentences(out, "Man-hours", list(dict.fromkeys(one.source for one in crews)))


def print_machines(
    out: Console, machines: Sequence[MachineBeside], money_fraction: Decimal
) -> None:
    """Print what machines cost their owner an hour beside public figures and rent."""
    from api.commands.printing import hanging, sentences, show_table, table
    from estimator.money import money_text

    if not machines:
        return
    rows = table(
        ("Machine", "text"), ("Price", "number"), ("Owning", "number"), ("Running", "number"),
        ("An\nhour", "number"), ("Public\nhour", "number"), ("Here /\npublic", "number"),
        ("Rent of\nan hour", "number"),
    )  # fmt: skip
    for one in machines:
        rows.add_row(
            one.machine, f"${one.price:,.0f}", money_text(one.hour.owning),
            money_text(one.hour.running), money_text(one.hour.total),
            money_text(one.public_per_hr), f"{one.ratio:f}", money_text(one.rent_per_hr),
        )  # fmt: skip
    out.print("\nMachines: an hour of the owner's, without operator\n")
    show_table(out, rows)
    sentences(out, "Public hours", [f"{one.machine}: {one.source}; {one.note}" for one in machines])
    sentences(out, "Prices", [f"{one.machine}: {one.terms_source}" for one in machines])
    out.print()
    hanging(
        out, "", "",
        f"Built up by USACE EP 1110-1-8, with money at {money_fraction * 100:.0f} % and fuel at "
        "the rates of the tables. Rent is their rate for an eighth of a day, without fuel; a "
        "truck for hire comes with its fuel and its driver.",
    )  # fmt: skip
