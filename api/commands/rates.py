"""`groundsill rates`: checking the rate tables, and looking up recipes."""

from __future__ import annotations

from pathlib import Path

import click

from api.commands.options import rates_option


@click.group()
def rates() -> None:
    """Check rate tables and look up recipes."""


@rates.command()
@click.argument(
    "folder", required=False, type=click.Path(exists=True, file_okay=False, path_type=Path)
)
def check(folder: Path | None) -> None:
    """Report every fault of the tables in FOLDER, laid over the shipped ones."""
    from api.commands.opening import open_tables
    from estimator.pricing.tables import unused_resources

    tables = open_tables(folder)
    for code in unused_resources(tables):
        click.echo(f"note: resource '{code}' is used by no recipe and no crew")
    click.echo(
        f"No faults: {len(tables.rates.codes)} resources, {len(tables.crews)} crews, "
        f"{len(tables.catalogue.assemblies)} recipes, {len(tables.markups)} markups, "
        f"{len(tables.catalogue.cautions)} cautions."
    )


@rates.command()
@click.argument("code", required=False)
@rates_option
def recipes(code: str | None, rates: Path | None) -> None:
    """List the recipes, or show what the recipe CODE asks for and uses."""
    from api.commands.opening import open_tables
    from api.commands.recipes_shown import show_recipe, show_recipes
    from estimator.assemblies.catalogue import assembly_named

    tables = open_tables(rates)
    if code is None:
        show_recipes(tables)
    else:
        show_recipe(tables, assembly_named(tables.catalogue, code))
