"""`groundsill database`: bring up to date, back up, restore, check and move what is kept."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from api.commands.opened_store import opened_store
from api.commands.whole_help import Commands
from estimator.errors import how_many

if TYPE_CHECKING:
    from api.settings import Settings
    from api.store.copying import Progress
    from api.store.verify import Verified

_FOLDER_MODE = 0o700


@click.group(cls=Commands)
def database() -> None:
    """Look after the service's database.

    Environment variables say which one: GROUNDSILL_DATA_FOLDER for the embedded one,
    GROUNDSILL_DATABASE_URL for PostgreSQL.
    """


@database.command()
def upgrade() -> None:
    """Create the database, or bring it up to date for this program.

    Either all steps are done or none. Make a backup first.
    """
    from api.store.engine import make_engine, read_url, sqlite_file
    from api.store.migrations.steps import upgrade as bring_up

    settings = _settings()
    url = read_url(settings.database_url)
    if settings.is_embedded:
        sqlite_file(url).parent.mkdir(parents=True, exist_ok=True, mode=_FOLDER_MODE)
    engine = make_engine(url, settings.longest_wait_s)
    try:
        step = bring_up(engine)
    finally:
        engine.dispose()
    click.echo(f"{settings.shown_database} is at step {step}.")


@database.command()
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
def backup(file: Path) -> None:
    """Write a backup to FILE, which must not exist yet.

    The service can keep running. The backup is one SQLite file, from either kind of database.
    """
    from api.store.backup import back_up

    with opened_store() as store, _progress("Copying") as progress:
        verified = back_up(store, file, progress)
    click.echo(f"The backup is in {file}: {_verified_text(verified)}")


@database.command()
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
def restore(file: Path) -> None:
    """Fill a new database from the backup in FILE.

    The database that the environment names must not exist yet, or have no rows if it is
    PostgreSQL. The backup is verified first.
    """
    import api.subjects  # noqa: F401 (all tables, and what is checked of them)
    from api.store.backup import restore as fill
    from api.store.engine import read_url, sqlite_file

    settings = _settings()
    if settings.is_embedded:
        folder = sqlite_file(read_url(settings.database_url)).parent
        folder.mkdir(parents=True, exist_ok=True, mode=_FOLDER_MODE)
    with _progress("Copying") as progress:
        verified = fill(file, settings.database_url, progress)
    click.echo(f"{settings.shown_database} is restored: {_verified_text(verified)}")


@database.command()
@click.option("--digest", help="Digest that an earlier check printed, to compare with.")
def verify(digest: str | None) -> None:
    """Check that the stored data is consistent, and name the first fault.

    It follows the audit trail row by row, compares every row with what the trail says about it,
    and adds up every total again.
    """
    from api.store.errors import StoreFaulty
    from api.store.verify import verify as check
    from estimator.errors import fault, quoted

    with opened_store() as store:
        verified = check(store)
    if digest is not None and digest != verified.digest:
        raise fault(StoreFaulty, f"the digest is {verified.digest}, not {quoted(digest)}")
    click.echo(f"No problems: {_verified_text(verified)}")


@database.command()
@click.option(
    "--to",
    "url",
    envvar="GROUNDSILL_MOVE_TO",
    required=True,
    metavar="URL",
    help="URL of an empty PostgreSQL database; with a password in it, set GROUNDSILL_MOVE_TO.",
)
def move(url: str) -> None:
    """Copy the embedded database to PostgreSQL, every value kept, and verify the copy.

    Nothing can be changed while it runs. The embedded database stays as it was.
    """
    from api.store.backup import move as copy_to
    from api.store.engine import read_url

    target = read_url(url)
    if target.password and not os.environ.get("GROUNDSILL_MOVE_TO"):
        raise click.UsageError(
            "A password on the command line is seen by everybody on this machine: "
            "set GROUNDSILL_MOVE_TO instead."
        )
    with opened_store() as store, _progress("Moving") as progress:
        verified = copy_to(store, url, progress)
    shown = target.render_as_string(hide_password=True)
    click.echo(f"Everything is in {shown}: {_verified_text(verified)}")
    click.echo("Set GROUNDSILL_DATABASE_URL to it before anything else is written.")


def _settings() -> Settings:
    from api.settings import read_settings

    return read_settings(os.environ)


@contextmanager
def _progress(label: str) -> Iterator[Progress]:
    """Show on the terminal how many rows were copied, if somebody is there to see it."""
    copied = 0

    def more(rows: int) -> None:
        nonlocal copied
        copied += rows
        if os.isatty(2):
            click.echo(f"\r{label}: {copied:,} rows", nl=False, err=True)

    yield more
    if copied and os.isatty(2):
        click.echo(err=True)


def _verified_text(verified: Verified) -> str:
    return (
        f"{how_many(verified.accounts, 'account')}, "
        f"{how_many(verified.audit_rows, 'audit row')}, "
        f"digest {verified.digest}."
    )
