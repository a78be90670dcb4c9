"""What the commands of draws share: the project that is meant, and its books on this computer."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from api.commands.own_books import own_books

if TYPE_CHECKING:
    from uuid import UUID

    from api.draws.rows import StoredDraw
    from api.store.sessions import AccountSession
    from api.store.writing_session import WritingSession
    from estimator.funding.draw_package import DrawPackage

project_option = click.option("--project", help="Name of the project, if several are open.")
_Read = TypeVar("_Read")


def body_of(shape: Any, stated: dict[str, Any]) -> Any:
    """Return a body read by the rules of the service, its faults by the names of the options."""
    from marshmallow import ValidationError

    from api.commands.body_options import option_places
    from api.contract.commands import schema_of
    from api.contract.schemas import faults_of
    from estimator.errors import FundingFaulty

    schema = schema_of(shape)()
    try:
        return schema.load({name: one for name, one in stated.items() if one != ""})
    except ValidationError as error:
        raise FundingFaulty(option_places(faults_of(error.messages, schema, "json"))) from None


def carried_out(project: str | None, change: Callable[[WritingSession, UUID], Any]) -> Any:
    """Carry a change out on the project that is meant, and return what it gives."""
    from api.ledger.opened_books import project_named

    with own_books() as (store, caller, now):
        return store.carry_out(
            caller, now, lambda work: change(work, project_named(work, project).id)
        )


def changed(
    project: str | None, change: Callable[[WritingSession, UUID], StoredDraw]
) -> dict[str, Any]:
    """Carry a change of a draw out, and return the draw as the service tells it."""
    from api.draws.shown_draws import draw_json

    def fields(work: WritingSession, project_id: UUID) -> dict[str, Any]:
        return draw_json(work, change(work, project_id))

    result: dict[str, Any] = carried_out(project, fields)
    return result


def step_taken(
    number: int,
    project: str | None,
    step: Callable[[WritingSession, StoredDraw], object],
    *,
    as_json: bool,
) -> None:
    """Take a step of draw NUMBER, and print what became of it."""
    from api.commands.draw_shown import show_step
    from api.draws.shown_draws import draw_numbered

    def change(work: WritingSession, project_id: UUID) -> StoredDraw:
        of = draw_numbered(work, project_id, number)
        step(work, of)
        return of

    show_step(changed(project, change), as_json=as_json)


def draft_fields(project: str | None) -> dict[str, Any]:
    """Return the open draw as the service tells it."""
    from api.draws.drafts import draft_of, drafted
    from api.draws.shown_draws import draft_json

    def fields(session: AccountSession, project_id: UUID, now: Any) -> dict[str, Any]:
        draft = draft_of(session, project_id)
        return draft_json(drafted(session, draft, now), draft.opened_at.isoformat())

    return reading(project, fields)


def submitted_draw_fields(project: str | None, number: int) -> dict[str, Any]:
    """Return a submitted draw as the service tells it."""
    from api.draws.shown_draws import draw_json, draw_numbered

    return reading(
        project,
        lambda session, of, _: draw_json(session, draw_numbered(session, of, number)),
    )


def package_files(number: int | None, project: str | None, paths: list[Path]) -> dict[Path, bytes]:
    """Return files of the package of a draw; without a number, of the open one."""
    from api.draws.drafts import draft_of, drafted
    from api.draws.packages import package_of, with_balance, written
    from api.draws.shown_draws import draw_numbered

    def read(session: AccountSession, project_id: UUID, now: Any) -> DrawPackage:
        if number is None:
            from estimator.funding.draw_package import DrawPackage

            package = DrawPackage(drafted(session, draft_of(session, project_id), now))
        else:
            package = package_of(session, draw_numbered(session, project_id, number))
        return with_balance(session, package, project_id)

    package = reading(project, read)
    return {path: written(package, path.suffix.lower()) for path in paths}


def reading(project: str | None, read: Callable[[AccountSession, UUID, Any], _Read]) -> _Read:
    """Read from the books of the project that is meant."""
    from api.ledger.opened_books import project_named

    with own_books() as (store, caller, now), store.reading(caller) as session:
        return read(session, project_named(session, project).id, now)
