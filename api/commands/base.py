"""`groundsill rates base`: labor rates from the public wages of a state, as a folder of tables."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from api.commands.options import rates_option
from estimator.errors import how_many

if TYPE_CHECKING:
    from collections.abc import Sequence

    from estimator.rates.public.base_rates import BaseRate

year_option = click.option(
    "--year", type=int, metavar="YEAR", required=True, help="Year of the taxes."
)
state_option = click.option(
    "--state", help="State in two letters, such as OH; the whole country if left out."
)


@click.command()
@year_option
@state_option
@click.option(
    "--out", type=click.Path(path_type=Path), required=True, help="Folder to write, new or empty."
)
@click.option(
    "--compensation", metavar="$", help="Workers' compensation per $100 of pay; else 3.89."
)
@click.option("--liability", metavar="$", help="General liability per $100 of pay; else none.")
@rates_option
def base(
    year: int, state: str | None, *, out: Path, compensation: str | None, liability: str | None,
    rates: Path | None,
) -> None:  # fmt: skip
    """Write labor rates made from public wages, taxes and stated insurance to a new folder.

    Other commands lay that folder over the shipped tables with --rates. Wages and taxes are
    public figures; leave and plans are averages of all construction. Workers' compensation is one
    too, and general liability is left out, until you state your own.
    """
    from estimator.opening import open_tables
    from estimator.quantity.measures import read_dollars
    from estimator.quantity.units import unit
    from estimator.rates.public.base_rates import StatedInsurance, base_rates
    from estimator.rates.public.public_wages import public_folder
    from estimator.rates.written_folder import resources_text, write_folder

    texts = {"compensation_per_100": compensation, "liability_per_100": liability}
    insurance = StatedInsurance(
        **{
            name: read_dollars(text, unit("$"), name)
            for name, text in texts.items()
            if text is not None
        }
    )
    table = open_tables(rates).rates
    made = base_rates(table, public_folder(), year, state and state.upper(), insurance)
    write_folder(out, {"resources.csv": resources_text(one.rate for one in made)})
    _show_made(made)
    click.echo(f"Written to {out}: {how_many(len(made), 'labor rate')}.", err=True)


def show_against_public(rates: Path | None, year: int, state: str | None) -> None:
    """Print labor, crews and machines of some tables beside what is public of them."""
    from api.commands.beside_public import print_crews, print_machines
    from api.commands.printing import page
    from estimator.assemblies.public_production import crews_beside_public
    from estimator.opening import open_tables
    from estimator.rates.public.base_rates import base_rates
    from estimator.rates.public.public_machines import USUAL_MONEY, machines_beside_public
    from estimator.rates.public.public_wages import public_folder

    tables, folder = open_tables(rates), public_folder()
    _show_made(base_rates(tables.rates, folder, year, state and state.upper()))
    with page() as out:
        print_crews(out, crews_beside_public(tables, folder))
        print_machines(out, machines_beside_public(tables.rates, folder), USUAL_MONEY)


def _show_made(made: Sequence[BaseRate]) -> None:
    from api.commands.printing import hanging, page, sentences, show_table, table
    from estimator.money import money_text

    with page() as out:
        rows = table(
            ("Resource", "code"), ("Public\nwage", "number"), ("An hour of it\nburdened", "number"),
            ("10th per-\ncentile", "number"), ("90th per-\ncentile", "number"),
            ("In the\ntables", "number"), ("Above\npublic", "number"),
        )  # fmt: skip
        for one in made:
            low, high = (
                "-" if end is None else money_text(end) for end in (one.rate.low, one.rate.high)
            )
            rows.add_row(
                one.rate.code, money_text(one.wage.mean), money_text(one.rate.rate), low, high,
                money_text(one.before.rate), f"{int((one.above * 100).to_integral_value())} %",
            )  # fmt: skip
        show_table(out, rows)
        sentences(out, "More than 15 % off", [_why(one) for one in made if one.is_far_off])
        sentences(out, "Wages", list(dict.fromkeys(_survey(one) for one in made)))
        out.print()
        hanging(out, "", "", f"Each hour is {made[0].rate.note}.")


def _why(one: BaseRate) -> str:
    note = f"its note says: {one.before.note}" if one.before.note else "no note says why"
    return f"{one.before.code}: {note}"


def _survey(one: BaseRate) -> str:
    """Return the survey of a wage; the factor of each trade stands in its row."""
    survey, moved, _ = one.wage.source.partition(" x ")
    if not moved:
        return survey
    return f"{survey}, times a factor that the source of each row names"
