"""No body gets a 5xx, whatever it says; and what is refused leaves everything as it was."""

from __future__ import annotations

import json

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from api.projects import item_shapes, phase_shapes, project_shapes, scope_shapes
from api.store.verify import verify
from tests.api.figures import figure
from tests.api.projects.made import AT, add_item, as_read, open_phase, open_project
from tests.api.service import new_key

SOME_WORDS = (
    "", " ", "62 ft 6 in", "12", "8 hr/day", "$310/day", "010", "20", "stone-fill-skid-steer",
    "2026-03-02", "no", "\x00", "\u2028", "\u200b", "é窯🧱", "%", "x" * 300, "-1 ft", "1e999 ft",
    "999,999,999 ft", "../x", "=1+1", "<b>", "\\", "'", '"',
)  # fmt: skip
words = st.sampled_from(SOME_WORDS) | st.text(max_size=8)
keys = st.sampled_from(
    ["length", "depth", "spots", "pace", "quantity", "low", "high", "shape", "events", "name",
     "probability", "cost", "phase", "correlation", "labor", "assembly", "production", "project",
     "phases", "items", "code", "inputs", "risk", "methods", "after", "duration"]
)  # fmt: skip
values = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**18), 10**18) | words,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(keys, inner, max_size=4),
    max_leaves=12,
)


def changed(draw, example):
    """Return an example with some of its values replaced, at any depth."""
    if draw(st.integers(0, 4)) == 0:
        return draw(values)
    if isinstance(example, dict):
        return {key: changed(draw, one) for key, one in example.items()} | (
            {draw(keys): draw(values)} if draw(st.integers(0, 5)) == 0 else {}
        )
    if isinstance(example, list):
        return [changed(draw, one) for one in example]
    return example


def is_readable(body):
    try:
        json.dumps(body, ensure_ascii=False).encode()
    except UnicodeEncodeError:
        return False
    return True


@settings(
    max_examples=figure(40, 3_000), deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)  # fmt: skip
@given(data=st.data())
def test_no_body_gets_a_5xx(embedded, data):
    embedded.clock.turn(minutes=5)
    project = open_project(embedded)
    phase = open_phase(embedded, project)
    item = add_item(embedded, project, phase)
    path = f"{AT}/{project['id']}"
    new_item = item_shapes.EXAMPLE_ITEM | {"phase_id": phase["id"]}
    at_one = {"id": item["id"], "version": 1}
    one_phase = {"code": "20", "name": "Fill", "items": [{"code": "1"} | new_item]}
    del one_phase["items"][0]["phase_id"]
    method, where, example = data.draw(
        st.sampled_from(
            [
                ("POST", AT, project_shapes.EXAMPLE_PROJECT | {"rate_set_id": None}),
                ("PATCH", path, project_shapes.EXAMPLE_PROJECT | {"rate_set_id": None}),
                ("POST", f"{path}/shares", {"token_id": item["id"]}),
                ("POST", f"{path}/phases", phase_shapes.EXAMPLE_PHASE),
                ("PATCH", f"{path}/phases/{phase['id']}", phase_shapes.EXAMPLE_PHASE),
                ("PUT", f"{path}/phases/order", {"phases": [{"id": phase["id"], "version": 1}]}),
                ("POST", f"{path}/items", new_item),
                ("PATCH", f"{path}/items/{item['id']}", new_item),
                ("POST", f"{path}/items/additions", {"items": [new_item, new_item]}),
                ("POST", f"{path}/items/changes", {"items": [at_one | new_item]}),
                ("PUT", f"{path}/phases/{phase['id']}/items/order", {"items": [at_one]}),
                ("PUT", f"{path}/scope", {"scope": {"project": "x", "phases": [one_phase]}}),
                ("PUT", f"{path}/scope", scope_shapes.EXAMPLE_UPLOAD | {"quotes": {}}),
                ("POST", f"{AT}/from-scope", scope_shapes.EXAMPLE_FROM_SCOPE),
            ]
        )
    )
    body = changed(data.draw, example)
    tags = f'"1", {as_read(embedded, project)["If-Match"]}'
    headers = new_key() | {"If-Match": tags}
    content = json.dumps(body, ensure_ascii=not is_readable(body)).encode()
    answer = embedded.send(method, where, content, headers=headers)
    assert answer.status_code < 500, (method, where, body, answer.text)
    if answer.status_code >= 400:
        assert answer.json["errors"]
        assert embedded.get(path).json == project
        assert [one["version"] for one in embedded.get(f"{path}/items").json["items"]] == [1]
    verify(embedded.store)
