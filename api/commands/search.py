"""`groundsill search`: what the tables hold that has certain words in it, with prices."""

from __future__ import annotations

import json
from datetime import date, datetime
from pathlib import Path

import click

from api.commands.options import DayOption, rates_option


@click.command()
@click.argument("words", nargs=-1, required=True)
@click.option("--json", "as_json", is_flag=True, help="Print what is found as JSON.")
@rates_option
@click.option(
    "--on", type=DayOption(), metavar="DATE", help="Day of the prices; today if left out."
)
def search(words: tuple[str, ...], as_json: bool, rates: Path | None, on: datetime | None) -> None:
    """Search assemblies, resources, crews and cautions for WORDS or parts of words.

    Every word must match: 'groundsill search stone deliv'. Prices are today's, or those of --on.
    """
    from api.commands.search_shown import show_matches
    from estimator.assemblies.table_search import search as find
    from estimator.assemblies.table_search_json import matches_fields
    from estimator.opening import open_tables

    day = on.date() if on else date.today()
    matches = find(open_tables(rates), " ".join(words), day)
    if as_json:
        click.echo(json.dumps(matches_fields(matches, day), indent=2, ensure_ascii=False))
    else:
        show_matches(matches, " ".join(words), day)
