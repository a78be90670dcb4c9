"""Shapes of studies of an estimate: methods compared, and how sure it is."""

from __future__ import annotations

from typing import Any

import marshmallow as ma

from api.contract.fields import Moment, Whole
from api.contract.lists import Page
from api.contract.schemas import Answer
from api.store.models.base import HIGHEST_POSITION

EXAMPLE_COMPARISON: dict[str, Any] = {"item": "30.020", "day_worth": "310.00"}
EXAMPLE_SCHEDULE: dict[str, Any] = {"start": "2026-04-06", "crew": {"laborer": 3}}
EXAMPLE_SCHEDULE_FILE: dict[str, Any] = {"start": "2026-04-06", "form": "ics"}
EXAMPLE_RANGES: dict[str, Any] = {"confidence": "0.8", "seed": 1906}


class StudyHead(Answer):
    """A study without its result."""

    id = ma.fields.UUID(required=True)
    number = Whole(1, HIGHEST_POSITION, required=True)
    created_at = Moment(required=True)
    created_by = ma.fields.String(required=True)
    body = ma.fields.Dict(required=True)
    digest = ma.fields.String(required=True)


class StudyAnswer(StudyHead):
    """A study; its result is what the library says, as docs/ describes it."""

    result = ma.fields.Dict(required=True)


class StudyPage(Page):
    """Some studies of an estimate, newest first, without their results."""

    studies = ma.fields.List(ma.fields.Nested(StudyHead), required=True)
