"""`groundsill difference`: what changed between two estimates, and why."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from api.commands.text_file import file_text

if TYPE_CHECKING:
    from estimator.studies.difference.compared_estimate import Compared

_FILE = click.Path(exists=True, dir_okay=False, path_type=Path)


@click.command()
@click.argument("before", type=_FILE)
@click.argument("after", type=_FILE)
@click.option("--json", "as_json", is_flag=True, help="Print the difference as JSON.")
def difference(before: Path, after: Path, as_json: bool) -> None:
    """Show what changed from one estimate to another, line by line, and why.

    BEFORE and AFTER are files that 'groundsill price --json' printed. Nothing is priced again.
    """
    from api.commands.difference_shown import show_difference
    from estimator.studies.difference.estimate_difference import estimate_difference
    from estimator.studies.difference.estimate_difference_json import estimate_difference_json

    compared = estimate_difference(_read(before), _read(after))
    if as_json:
        click.echo(estimate_difference_json(compared), nl=False)
    else:
        show_difference(compared)


def _read(file: Path) -> Compared:
    from estimator.studies.difference.compared_estimate_json import compared_from_json

    text = file_text(file, "give what `groundsill price --json` prints")
    return compared_from_json(text, file.name)
