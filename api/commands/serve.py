"""`groundsill serve`: the service, on a database of its own unless the environment names one."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from api.commands.opened_store import bring_up

if TYPE_CHECKING:
    from api.settings import Settings
    from api.store.store import Store


@click.command()
@click.option("--new-owner-token", is_flag=True, help="Print a new token, if the owner's was lost.")
def serve(new_owner_token: bool) -> None:
    """Serve projects, rates, estimates and calculations over HTTP.

    Creates the embedded database, or brings it up to date; for PostgreSQL run 'groundsill database
    upgrade'. The first start prints the owner's token, once. Settings are environment variables,
    listed in docs/operations.md.
    """
    from api.app import create_app
    from api.server import bound_socket, run_server
    from api.settings import read_settings

    settings = read_settings(os.environ)
    with bound_socket(settings) as listener:
        store = _opened(settings)
        try:
            token = _token(store, further=new_owner_token)
            app = create_app(settings, store)
            store.close()  # each worker opens connections of its own
            run_server(app, settings, listener, lambda: _tell(settings, token))
        finally:
            store.close()


def _opened(settings: Settings) -> Store:
    import api.subjects  # noqa: F401 (all tables, and what is checked of them)
    from api.store.store import open_store

    if settings.is_embedded:
        bring_up(settings)
    return open_store(
        settings.database_url,
        longest_wait_s=settings.longest_wait_s,
        pool_size=settings.database_connections,
    )


def _token(store: Store, *, further: bool) -> str | None:
    from api.access.first_account import first_token, further_token
    from api.app import utc_now

    token = first_token(store, utc_now())
    return further_token(store, utc_now()) if further and token is None else token


def _tell(settings: Settings, token: str | None) -> None:
    from api.server import address

    click.echo(f"Groundsill is at {address(settings)}; see /docs for how to use it.")
    if token is not None:
        click.echo(f"Owner's token, shown this once: {token}")
