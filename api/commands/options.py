"""Arguments and options that several commands share."""

from __future__ import annotations

from pathlib import Path

import click

CHARTS = (".svg", ".png")

scope_argument = click.argument(
    "scope", type=click.Path(exists=True, dir_okay=False, path_type=Path)
)
rates_option = click.option(
    "--rates",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="Folder of your own rate tables, laid over the shipped ones.",
)
on_option = click.option(
    "--on",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="Pricing date; else the scope's own, else today.",
)
