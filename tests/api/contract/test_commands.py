"""Every body is loaded into a frozen command that has the fields of its shape, and no others."""

from __future__ import annotations

from dataclasses import MISSING, fields, is_dataclass

import marshmallow as ma
import pytest

import api.subjects
from api.contract.commands import LEFT_OUT, Command, stated
from api.projects.phase_shapes import PhaseChange


def all_shapes(cls=Command):
    for child in cls.__subclasses__():
        yield child
        yield from all_shapes(child)


api.subjects.blueprints()
SHAPES = sorted(
    (one for one in all_shapes() if hasattr(one, "makes")), key=lambda one: one.__name__
)


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.__name__)
def test_a_shape_has_the_fields_of_the_command_it_makes(shape):
    command = shape.makes
    assert is_dataclass(command)
    assert command.__dataclass_params__.frozen
    shown = shape().fields
    assert {one.name for one in fields(command)} == shown.keys()
    for one in fields(command):
        is_always_there = shown[one.name].required or shown[one.name].load_default is not ma.missing
        has_default = one.default is not MISSING or one.default_factory is not MISSING
        assert is_always_there or has_default, one.name


def test_what_a_body_leaves_out_is_told_from_null():
    change = PhaseChange().load({"duration": None})
    assert (change.duration, change.after) == (None, LEFT_OUT)
    assert stated(change) == {"duration": None}
