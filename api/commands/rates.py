"""`groundsill rates`: check, compare, adjust, export and import rate tables; look up assemblies."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from api.commands.base import base, show_against_public, state_option
from api.commands.learn import learn
from api.commands.options import DayOption, force_option, on_option, rates_option
from api.commands.whole_help import Commands
from estimator.errors import TablesFaulty, fault, how_many
from estimator.money import fraction_of_percent

if TYPE_CHECKING:
    from collections.abc import Mapping

    from estimator.rates.adjustment.location import LocationFactor

SHIPPED = "shipped"

_PATH = click.Path(path_type=Path)
_FILE = click.Path(exists=True, dir_okay=False, path_type=Path)


def _folder_of_set(_: click.Context, __: click.Parameter, value: Path) -> Path:
    """Return the folder of a set; `shipped` names the tables that come with the program."""
    from estimator.rates.folders import shipped_tables

    if value.is_dir():
        return value
    if str(value) == SHIPPED:
        return shipped_tables().path
    raise click.BadParameter(f"'{value}' is not a folder; name one, or '{SHIPPED}'.")


@click.group(cls=Commands)
def rates() -> None:
    """Check, compare, adjust, export and import rate tables; look up assemblies."""


@rates.command()
@click.argument(
    "folder", required=False, type=click.Path(exists=True, file_okay=False, path_type=Path)
)
@click.option(
    "--against-public",
    is_flag=True,
    help="Also print labor, crews and machines beside public figures.",
)
@click.option(
    "--year",
    type=int,
    metavar="YEAR",
    help="Year of the taxes, for public wages; this year if left out.",
)
@state_option
def check(
    folder: Path | None, *, against_public: bool, year: int | None, state: str | None
) -> None:
    """Report everything that is wrong in the tables of FOLDER, laid over the shipped ones."""
    from estimator.assemblies.tables import unused_resources
    from estimator.assemblies.trade_check import trade_doubts
    from estimator.opening import open_tables
    from estimator.rates.rate_range import without_range

    tables = open_tables(folder)
    notes = [
        *(f"no assembly or crew uses resource '{code}'" for code in unused_resources(tables)),
        *(
            f"resource '{code}' has no low and high: it counts as certain"
            for code in without_range(tables.rates)
        ),
        *trade_doubts(tables),
    ]
    for note in notes:
        click.echo(f"note: {note}")
    result = f"No faults, {len(notes)} to look at" if notes else "No problems"
    click.echo(
        f"{result}: {len(tables.rates.codes)} resources, {len(tables.crews)} crews, "
        f"{len(tables.catalogue.assemblies)} assemblies, {len(tables.markups)} markups, "
        f"{len(tables.catalogue.cautions)} cautions."
    )
    if against_public:
        show_against_public(folder, year or datetime.now(UTC).year, state)


rates.add_command(learn)
rates.add_command(base)


@rates.command()
@click.argument("code", required=False)
@rates_option
def assemblies(code: str | None, rates: Path | None) -> None:
    """List the assemblies, or show the inputs of assembly CODE and what it uses."""
    from api.commands.assemblies_shown import show_assemblies, show_assembly
    from estimator.assemblies.catalogue import assembly_named
    from estimator.opening import open_tables

    tables = open_tables(rates)
    if code is None:
        show_assemblies(tables)
    else:
        show_assembly(tables, assembly_named(tables.catalogue, code))


@rates.command()
@click.argument("before", type=_PATH, callback=_folder_of_set)
@click.argument("after", type=_PATH, callback=_folder_of_set)
@click.option("--scope", type=_FILE, help="Also price this scope with both sets.")
@on_option
@click.option("--json", "as_json", is_flag=True, help="Print the difference as JSON.")
def difference(
    before: Path, after: Path, scope: Path | None, on: datetime | None, as_json: bool
) -> None:
    """Show what changed from the tables in BEFORE to those in AFTER, row by row.

    Both are folders, laid over the shipped tables; the word 'shipped' stands for those alone.
    """
    from api.commands.opening import priced
    from api.commands.rates_shown import show_rates_difference
    from estimator.opening import table_folders
    from estimator.studies.difference.rates_difference import rates_difference
    from estimator.studies.difference.rates_difference_json import rates_difference_fields
    from estimator.studies.difference.scope_effect import scope_effect

    compared = rates_difference(table_folders(before), table_folders(after))
    effect = None
    if scope:
        old, new = (priced(scope, rates, on) for rates in (before, after))
        effect = scope_effect(old, new, compared.changes)
    if as_json:
        click.echo(
            json.dumps(rates_difference_fields(compared, effect), indent=2, ensure_ascii=False)
        )
    else:
        show_rates_difference(compared, effect)


@rates.command()
@click.argument("arguments", nargs=-1, required=True, metavar="[FOLDER] FILE.xlsx", type=_PATH)
@force_option
def export(arguments: tuple[Path, ...], force: bool) -> None:
    """Write the tables in FOLDER, else the shipped ones, as a workbook: one sheet a table."""
    from api.commands.progress import shown_if_long
    from estimator.rates.folders import TableFolder, shipped_tables
    from estimator.workbook.rates.rates_writer import write_rates_workbook

    *folders, file = arguments
    if len(folders) > 1:
        raise click.UsageError("Give at most one FOLDER, then FILE.xlsx.")
    if file.suffix.lower() != ".xlsx":
        raise click.UsageError(f"'{file}' must end in .xlsx.")
    folder = TableFolder(folders[0].resolve().name, folders[0]) if folders else shipped_tables()
    with shown_if_long("Writing"):
        write_rates_workbook(folder, file, force=force)
    click.echo(f"The tables are in {file}.", err=True)


@rates.command("import")
@click.argument("file", type=_FILE)
@click.argument("folder", type=_PATH)
def import_(file: Path, folder: Path) -> None:
    """Write the tables of the workbook FILE to FOLDER, which must be new or empty.

    The tables are checked as if laid over the shipped ones; with any fault nothing is written.
    """
    from api.commands.progress import shown_if_long
    from estimator.workbook.rates.rates_reader import import_rates_workbook

    with shown_if_long("Reading"):
        rows = import_rates_workbook(file, folder)
    for name, count in rows.items():
        click.echo(f"{name}: {how_many(count, 'row')}")
    click.echo(f"Written to {folder}.")


@rates.command()
@click.argument("folder", type=_PATH)
@click.option(
    "--to",
    required=True,
    type=DayOption(),
    metavar="DATE",
    help="Date that the new rates are for, such as the middle of a phase.",
)
@rates_option
@click.option("--index", type=_FILE, help="CSV file of price indexes.")
@click.option(
    "--public", is_flag=True, help="Use public price indexes of stone, lumber, steel and plastics."
)
@click.option(
    "--yearly",
    type=click.FloatRange(-50, 100),
    metavar="PERCENT",
    help="Change a year, for kinds without an index and after the last figure of an index.",
)
@click.option("--places", type=_FILE, help="CSV file of location factors.")
@click.option("--place", help="Place that the new rates are for.")
@click.option("--rates-of", help="Place that the old rates are for; else the one with factor 1.")
def adjust(
    folder: Path,
    to: datetime,
    rates: Path | None,
    index: Path | None,
    yearly: float | None,
    places: Path | None,
    place: str | None,
    rates_of: str | None,
    *,
    public: bool,
) -> None:
    """Adjust rates to another date, place or both, and write them as a new set in FOLDER.

    Each new row names the row it comes from and the factors; the old rows stay.
    """
    from estimator.opening import open_tables
    from estimator.rates.adjustment.adjusted_rates import Adjustment, adjusted, rates_in_force
    from estimator.rates.adjustment.index_table import read_index_file
    from estimator.rates.adjustment.moved_rents import adjusted_rents
    from estimator.rates.public.public_indexes import public_indexes
    from estimator.rates.rents import RENTS
    from estimator.rates.written_folder import rents_text, resources_text, write_folder

    if (places is None) != (place is None):
        raise click.UsageError("Give --places and --place together.")
    if rates_of is not None and places is None:
        raise click.UsageError("Give --rates-of with --places and --place.")
    if index is None and yearly is None and places is None and not public:
        raise click.UsageError("Give --index, --public, --yearly, or --places with --place.")
    adjustment = Adjustment(
        day=to.date(),
        indexes={
            **(read_index_file(index) if index else {}),
            **(public_indexes() if public else {}),
        },
        yearly_change=None if yearly is None else fraction_of_percent(yearly),
        location=_location(places, place, rates_of) if places and place else {},
    )
    tables = open_tables(rates)
    rows = adjusted(rates_in_force(tables.rates, to.date()), adjustment)
    rents = adjusted_rents(tables.rents, tables.rates, adjustment)
    if not rows:
        raise fault(
            TablesFaulty, "these factors apply to no rate", "name the kinds that they adjust"
        )
    files = {"resources.csv": resources_text(rows)}
    if rents:
        files[RENTS] = rents_text(rents)
    write_folder(folder, files)
    and_rents = f" and {how_many(len(rents), 'rent')}" if rents else ""
    click.echo(f"Written to {folder}: {how_many(len(rows), 'rate')}{and_rents} of {to:%Y-%m-%d}.")


def _location(places: Path, place: str, rates_of: str | None) -> Mapping[str, LocationFactor]:
    from estimator.rates.adjustment.location import factors_against, factors_of, read_location_file

    table = read_location_file(places)
    return factors_against(table, place, rates_of) if rates_of else factors_of(table, place)
