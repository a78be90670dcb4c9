"""Shapes of shares: leave for a lender or a crew to see a project."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any
from uuid import UUID

import marshmallow as ma

from api.contract.example_ids import TOKEN
from api.contract.fields import Id, Moment
from api.contract.lists import Page
from api.contract.schemas import Answer

EXAMPLE_SHARE: dict[str, Any] = {"token_id": TOKEN}


@dataclass(frozen=True, kw_only=True)
class NewShare:
    """Whom a project is shared with."""

    token_id: Annotated[UUID, Id(), "A token of a lender or a crew."]


class ShareAnswer(Answer):
    """Leave for the holder of a token of a lender or a crew to see a project."""

    id = ma.fields.UUID(required=True)
    token_id = ma.fields.UUID(required=True)
    holder = ma.fields.String(required=True)
    created_at = Moment(required=True)


class SharePage(Page):
    """Some shares, oldest first."""

    shares = ma.fields.List(ma.fields.Nested(ShareAnswer), required=True)
