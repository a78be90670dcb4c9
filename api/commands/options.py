"""Arguments and options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import click

CHARTS = (".svg", ".png")
WORKBOOKS = (".xlsx",)

scope_argument = click.argument(
    "scope", type=click.Path(exists=True, dir_okay=False, path_type=Path)
)
rates_option = click.option(
    "--rates",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="Folder of your own rate tables, laid over the shipped ones.",
)
force_option = click.option(
    "--force", is_flag=True, help="Overwrite existing files, whoever made them."
)


class DayOption(click.DateTime):
    """A day, written year first; the refusal says how."""

    name = "date"

    def __init__(self) -> None:
        super().__init__(["%Y-%m-%d"])

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> datetime:
        """Return the day at midnight."""
        from estimator.rates.rows import day_remedy

        try:
            day: datetime = super().convert(value, param, ctx)
        except click.BadParameter:
            self.fail(f"'{value}' is not a date; {day_remedy(str(value))}.", param, ctx)
        return day


on_option = click.option(
    "--on",
    type=DayOption(),
    metavar="DATE",
    help="Pricing date; else the scope's own, else today.",
)

start_option = click.option(
    "--start",
    type=DayOption(),
    metavar="DATE",
    help="First day of work; else the scope's, else its pricing date.",
)


def _stated(_: click.Context, __: click.Parameter, text: str | None) -> str | None:
    """Return a text that is left out or says something."""
    if text is not None and not text.strip():
        raise click.BadParameter("it is empty; write it as '4 days of 10 hr'")
    return text


week_option = click.option(
    "--week",
    metavar="WEEK",
    callback=_stated,
    help="Days and hours of work, such as '4 days of 10 hr'; overrides the scope's.",
)


def _number_of(_: click.Context, __: click.Parameter, texts: tuple[str, ...]) -> dict[str, int]:
    """Return crews by resource, as `laborer=3`."""
    there = {}
    for text in texts:
        resource, _equals, number = text.partition("=")
        if not (resource and number.isascii() and number.isdigit() and 0 < int(number) <= 1_000):
            raise click.UsageError(f"--crew takes a resource and a number, as laborer=3: {text!r}")
        there[resource] = int(number)
    return there


crew_option = click.option(
    "--crew",
    multiple=True,
    callback=_number_of,
    metavar="RESOURCE=NUMBER",
    help="How many of a trade or machine there are, such as laborer=3; overrides the scope's crew.",
)


def output_option(name: str, endings: tuple[str, ...], help_text: str) -> Callable[..., Any]:
    """Return an option that names a file to write, whose ending must fit what is written."""

    def fitting(_: click.Context, __: click.Parameter, value: Path | None) -> Path | None:
        if value is not None and value.suffix.lower() not in endings:
            raise click.UsageError(f"{name} takes a file that ends in {' or '.join(endings)}.")
        return value

    path = click.Path(path_type=Path)
    return click.option(name, type=path, callback=fitting, help=help_text)
