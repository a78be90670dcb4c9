"""`/v1/projects/{id}/items`: the priced pieces of work, one or many at once."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any
from uuid import UUID

from flask import Response

from api.access.rows import remove_one
from api.access.sign_in import current_caller, cursor_key
from api.contract.answers import json_answer
from api.contract.blueprint import TAG_HEADER, Blueprint
from api.contract.lists import page_of
from api.contract.places import ROOT, pointer
from api.contract.preconditions import change_row, with_tag
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.projects.item_shapes import (
    EXAMPLE_ADDITIONS,
    EXAMPLE_CHANGE,
    EXAMPLE_CHANGES,
    EXAMPLE_ITEM,
    EXAMPLE_ORDER,
    ItemAdditions,
    ItemAnswer,
    ItemChange,
    ItemChanges,
    ItemOrder,
    ItemPage,
    ItemQuery,
    ItemsAnswer,
    NewItem,
)
from api.projects.items import (
    Phases,
    add_items,
    change_item,
    change_items,
    cost_code,
    delete_item,
    items_in_query,
    phases_by_id,
)
from api.projects.phase_routes import ONE as PHASE
from api.projects.phases import items_of
from api.projects.project_routes import ONE as PROJECT
from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.projects.sequence import put_in_order
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession

AT = f"{PROJECT}/items"
ONE = f"{AT}/<uuid:item_id>"

items = Blueprint("items", __name__, description="Priced pieces of work.")


@items.post(AT)
@items.takes(NewItem, example=EXAMPLE_ITEM)
@items.answers(ItemAnswer, 201, headers=TAG_HEADER)
@items.creates
def add_item(body: NewItem, project_id: UUID) -> Response:
    """Add an item at the end of its phase."""

    def create(work: WritingSession) -> StoredAnswer:
        project = work.existing(Project, project_id)
        (item,) = add_items(work, project, [body], [ROOT])
        item_json = _item_json(work.existing(ProjectPhase, item.phase_id), item)
        return creation(f"/v1/projects/{project_id}/items/{item.id}", item_json, item.version)

    return create_row(services(), current_caller(), create)


@items.post(f"{AT}/additions")
@items.takes(ItemAdditions, example=EXAMPLE_ADDITIONS)
@items.answers(ItemsAnswer, 201)
@items.creates
def add_several_items(body: ItemAdditions, project_id: UUID) -> Response:
    """Add several items, all or none."""

    def create(work: WritingSession) -> StoredAnswer:
        project = work.existing(Project, project_id)
        places = [pointer("items", number) for number in range(len(body.items))]
        rows = add_items(work, project, body.items, places)
        items_json = {"items": _items_json(phases_by_id(work, project), rows)}
        return creation(f"/v1/projects/{project_id}/items", items_json)

    return create_row(services(), current_caller(), create)


@items.post(f"{AT}/changes")
@items.takes(ItemChanges, example=EXAMPLE_CHANGES)
@items.answers(ItemsAnswer)
def change_several_items(body: ItemChanges, project_id: UUID) -> Response:
    """Change and delete several items, all or none."""

    def change(work: WritingSession) -> tuple[Phases, list[ProjectItem]]:
        project = work.existing(Project, project_id)
        rows = change_items(work, project, body.items)
        return phases_by_id(work, project), rows

    phases, rows = services().store.carry_out(current_caller(), services().now, change)
    return json_answer({"items": _items_json(phases, rows)})


@items.get(AT)
@items.asks(ItemQuery)
@items.answers(ItemPage)
def list_items(query: ItemQuery, project_id: UUID) -> Response:
    """List the items of a project, phase by phase in their order."""
    order = (ProjectPhase.position, ProjectPhase.id, ProjectItem.position, ProjectItem.id)
    with services().store.reading(current_caller()) as session:
        phases = phases_by_id(session, session.existing(Project, project_id))

        def place(row: ProjectItem) -> list[Any]:
            return [phases[row.phase_id].position, row.phase_id, row.position, row.id]

        statement = items_in_query(project_id, query)
        page = page_of(session, statement, order, query, cursor_key(), place=place)
    return json_answer({"items": _items_json(phases, page.rows), "next": page.next})


@items.get(ONE)
@items.answers(ItemAnswer, headers=TAG_HEADER)
def show_item(project_id: UUID, item_id: UUID) -> Response:
    """Show an item."""
    with services().store.reading(current_caller()) as session:
        row = session.existing(ProjectItem, item_id, project_id=project_id)
        phase = session.existing(ProjectPhase, row.phase_id)
    return with_tag(json_answer(_item_json(phase, row)), row.version)


@items.patch(ONE)
@items.takes(ItemChange, example=EXAMPLE_CHANGE)
@items.answers(ItemAnswer, headers=TAG_HEADER)
@items.changes
def alter_item(body: ItemChange, project_id: UUID, item_id: UUID) -> Response:
    """Change an item, or move it to another phase; fields left out stay as they are."""
    phases: list[ProjectPhase] = []

    def change(work: WritingSession, item: ProjectItem) -> None:
        change_item(work, item, body)
        phases[:] = [work.existing(ProjectPhase, item.phase_id)]

    row = change_row(
        services(), current_caller(), ProjectItem, item_id, change, project_id=project_id
    )
    return with_tag(json_answer(_item_json(phases[0], row)), row.version)


@items.delete(ONE)
@items.answers(None, 204)
@items.changes
def remove_item(project_id: UUID, item_id: UUID) -> Response:
    """Delete an item, unless an accepted estimate has it."""
    return remove_one(ProjectItem, item_id, delete_item, project_id=project_id)


@items.put(f"{PHASE}/items/order")
@items.takes(ItemOrder, example=EXAMPLE_ORDER)
@items.answers(ItemsAnswer)
def order_items(body: ItemOrder, project_id: UUID, phase_id: UUID) -> Response:
    """Reorder the items of a phase; name each with its version."""

    def change(work: WritingSession) -> tuple[ProjectPhase, list[ProjectItem]]:
        phase = work.existing(ProjectPhase, phase_id, project_id=project_id)
        return phase, put_in_order(work, items_of(work, phase), body.items, "items")

    phase, rows = services().store.carry_out(current_caller(), services().now, change)
    return json_answer({"items": [_item_json(phase, row) for row in rows]})


def _item_json(phase: ProjectPhase, row: ProjectItem) -> dict[str, Any]:
    values = {name: getattr(row, name, None) for name in ItemAnswer().fields}
    values |= {name: values[name] or None for name in ("crew", "element", "note")}
    fields: dict[str, Any] = ItemAnswer().dump(values | {"cost_code": cost_code(phase, row)})
    return fields


def _items_json(phases: Phases, rows: Iterable[ProjectItem]) -> list[dict[str, Any]]:
    return [_item_json(phases[row.phase_id], row) for row in rows]
