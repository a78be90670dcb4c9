"""Bodies and queries are loaded into frozen commands, which say what is taken, and how."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, dataclass
from typing import Annotated

import marshmallow as ma
import pytest

from api.contract.commands import LEFT_OUT, NotStated, loaded, schema_of, several, stated
from api.contract.fields import Whole, Words
from api.ledger.entry_kinds import ENTRY_KINDS
from api.projects.item_shapes import NewItem
from api.projects.phase_shapes import PhaseChange


@dataclass(frozen=True, kw_only=True)
class _Post:
    name: Annotated[str, Words(40), "As the drawing has it."]
    count: Annotated[int, Whole(1, 99)] = 1
    note: Annotated[str | NotStated | None, Words(40)] = LEFT_OUT
    species: Annotated[str | None, Words(40)] = None


@dataclass(frozen=True, kw_only=True)
class _Posts:
    posts: Annotated[tuple[_Post, ...], several(_Post, 1, 2)]


def test_a_body_becomes_a_command_that_cannot_be_changed():
    post = schema_of(_Post)().load({"name": "P1", "count": 2})
    assert post == _Post(name="P1", count=2)
    with pytest.raises(FrozenInstanceError):
        post.count = 3


def test_commands_within_a_command_are_commands_too():
    assert schema_of(_Posts)().load({"posts": [{"name": "P1"}]}) == _Posts(posts=[_Post(name="P1")])


def test_only_a_field_without_a_default_is_required():
    fields = schema_of(_Post)().fields
    assert [name for name, one in fields.items() if one.required] == ["name"]
    assert fields["count"].load_default == 1
    assert fields["note"].load_default is fields["species"].load_default is ma.missing


@pytest.mark.parametrize("name", ["name", "count", "species"])
def test_null_is_refused_where_the_command_cannot_tell_it_from_nothing(name):
    with pytest.raises(ma.ValidationError, match="is null; leave it out"):
        schema_of(_Post)().load({"name": "P1"} | {name: None})


def test_a_description_goes_into_the_specification():
    assert schema_of(_Post)().fields["name"].metadata["description"] == "As the drawing has it."


def test_what_a_body_leaves_out_is_not_null():
    change = schema_of(PhaseChange)().load({"duration": None})
    assert (change.duration, change.after) == (None, LEFT_OUT)
    assert stated(change) == {"duration": None}


def test_a_new_item_needs_what_a_change_of_one_may_leave_out():
    fields = schema_of(NewItem)().fields
    required = [name for name, one in fields.items() if one.required]
    assert required == ["phase_id", "code", "name"]


@pytest.mark.parametrize("kind", ENTRY_KINDS.values(), ids=lambda kind: kind.path)
def test_a_body_that_is_read_field_by_field_is_what_its_schema_loads(kind):
    assert loaded(kind.body, kind.example) == schema_of(kind.body)().load(kind.example)


def test_null_is_read_where_it_states_something():
    body = {"posts": [{"name": "P1", "note": None}]}
    assert loaded(_Posts, body) == schema_of(_Posts)().load(body)


@pytest.mark.parametrize(
    "body",
    [
        [],
        {},
        {"posts": None},
        {"posts": []},
        {"posts": [{"name": "P1", "size": 3}]},
        {"posts": [{"name": "P1", "species": None}]},
        {"posts": [{"count": 100, "species": 7}, {"name": ""}]},
    ],
)
def test_a_body_that_is_refused_is_refused_with_every_fault_that_its_schema_names(body):
    with pytest.raises(ma.ValidationError) as of_schema:
        schema_of(_Posts)().load(body)
    with pytest.raises(ma.ValidationError) as of_fields:
        loaded(_Posts, body)
    assert of_fields.value.messages == of_schema.value.messages
