"""The examples of the specification do what they show."""

from __future__ import annotations

import json

from api.contract import example_ids
from api.projects import item_shapes, phase_shapes, project_shapes, scope_shapes, share_shapes
from tests.api.projects.made import (
    AT,
    add_item,
    created,
    open_phase,
    open_project,
)
from tests.api.service import new_key


def test_every_example_is_taken(embedded):
    project = open_project(embedded)
    phase, second = (open_phase(embedded, project, code) for code in ("20", "40"))
    item, second_item = (add_item(embedded, project, phase, code=code) for code in ("1", "2"))
    token = embedded.issue().json
    path = f"{AT}/{project['id']}"

    def real(example):
        """Put our own ids in the place of those of the example."""
        text = json.dumps(example).replace(f'"{example_ids.RATE_SET}"', "null")
        for shown, row in (
            (example_ids.PHASE, phase), (example_ids.SECOND_PHASE, second),
            (example_ids.ITEM, item), (example_ids.SECOND_ITEM, second_item),
            (example_ids.TOKEN, token),
        ):  # fmt: skip
            text = text.replace(shown, row["id"])
        return json.loads(text)

    for where, example in (
        (AT, project_shapes.EXAMPLE_PROJECT),
        (f"{AT}/from-scope", scope_shapes.EXAMPLE_FROM_SCOPE),
        (f"{path}/shares", share_shapes.EXAMPLE_SHARE),
        (f"{path}/phases", phase_shapes.EXAMPLE_PHASE),
        (f"{path}/items", item_shapes.EXAMPLE_ITEM),
        (f"{path}/items/additions", item_shapes.EXAMPLE_ADDITIONS),
    ):
        created(embedded.post(where, real(example), headers=new_key()))
    changed = embedded.post(f"{path}/items/changes", real(item_shapes.EXAMPLE_CHANGES))
    assert changed.status_code == 200, changed.text
    for method, where, example in (
        ("PATCH", path, project_shapes.EXAMPLE_CHANGE),
        ("PATCH", f"{path}/phases/{phase['id']}", phase_shapes.EXAMPLE_CHANGE),
        ("PATCH", f"{path}/items/{item['id']}", item_shapes.EXAMPLE_CHANGE),
        ("PUT", f"{path}/scope", scope_shapes.EXAMPLE_UPLOAD),
    ):
        tag = {"If-Match": embedded.get(where).headers["ETag"]}
        answer = embedded.send(method, where, real(example), headers=tag)
        assert answer.status_code == 200, answer.text


def test_the_examples_of_orders_are_taken(embedded):
    project = open_project(embedded)
    phase, second = (open_phase(embedded, project, code) for code in ("20", "40"))
    item, second_item = (add_item(embedded, project, phase, code=code) for code in ("1", "2"))
    path = f"{AT}/{project['id']}/phases"
    for where, example, shown in (
        (f"{path}/order", phase_shapes.EXAMPLE_ORDER,
         {example_ids.PHASE: phase, example_ids.SECOND_PHASE: second}),
        (f"{path}/{phase['id']}/items/order", item_shapes.EXAMPLE_ORDER,
         {example_ids.ITEM: item, example_ids.SECOND_ITEM: second_item}),
    ):  # fmt: skip
        text = json.dumps(example)
        for key, row in shown.items():
            text = text.replace(key, row["id"])
        answer = embedded.send("PUT", where, json.loads(text))
        assert answer.status_code == 200, answer.text
