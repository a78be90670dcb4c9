"""The `groundsill` command: one module a command, each a few lines around the library.

Heavy libraries are imported inside the commands that need them, so that help comes at once.
Exit codes: 0 done, 1 the input is wrong, 2 the command was called wrongly.
"""

from __future__ import annotations

import sys
from io import TextIOWrapper
from typing import Any

import click

from api.commands.account import account
from api.commands.books import books
from api.commands.compare import compare
from api.commands.convert import convert
from api.commands.credit import credit
from api.commands.database import database
from api.commands.demo import demo
from api.commands.difference import difference
from api.commands.documents import documents
from api.commands.draw import draw
from api.commands.explain import explain
from api.commands.labor import labor
from api.commands.log import log, reverse
from api.commands.machine import machine
from api.commands.new import new
from api.commands.price import price
from api.commands.rates import rates
from api.commands.schedule import schedule
from api.commands.search import search
from api.commands.serve import serve
from api.commands.trace import trace
from api.commands.track import track
from api.commands.whole_help import Commands
from estimator.errors import GroundsillError, InputFaulty, how_many

MOST_FAULTS_SHOWN = 50


class _Groundsill(Commands):
    """A group that tells the faults of an input in sentences and exits with 1."""

    def main(self, *arguments: Any, **options: Any) -> Any:
        """Run a command; a letter that the terminal's code page lacks is printed as `?`."""
        if isinstance(sys.stdout, TextIOWrapper):
            sys.stdout.reconfigure(errors="replace")
        return super().main(*arguments, **options)

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except GroundsillError as error:
            _tell(error)
            sys.exit(1)
        except BrokenPipeError:
            raise
        except OSError as error:
            click.echo(
                f"{error.filename or 'file'}: {error.strerror}; nothing was changed.", err=True
            )
            sys.exit(1)


def _tell(error: GroundsillError) -> None:
    faults = error.faults if isinstance(error, InputFaulty) else (error,)
    in_all = len(faults) + (error.more if isinstance(error, InputFaulty) else 0)
    click.echo(f"{how_many(in_all, 'problem')} found; nothing was changed.", err=True)
    for fault in faults[:MOST_FAULTS_SHOWN]:
        click.echo(f"- {fault}", err=True)
    if in_all > MOST_FAULTS_SHOWN:
        click.echo(f"and {in_all - MOST_FAULTS_SHOWN:,} more", err=True)


@click.group(cls=_Groundsill, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="groundsill")
def main() -> None:
    """Price the restoration of an old building, phase by phase, with every figure explained."""


for _command in (
    new,
    convert,
    price,
    compare,
    difference,
    explain,
    schedule,
    search,
    rates,
    labor,
    machine,
    books,
    log,
    reverse,
    documents,
    trace,
    track,
    draw,
    credit,
    demo,
    database,
    account,
    serve,
):
    main.add_command(_command)
