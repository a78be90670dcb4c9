"""Shapes of tokens and accounts as the service takes and tells them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

import marshmallow as ma

from api.contract.fields import Choice, Moment, Whole, Words
from api.contract.lists import Page, PageQuery
from api.contract.schemas import Answer
from api.store.models.access import ROLES
from api.store.models.base import NAME_LENGTH

MOST_DAYS = 3_650
USUAL_DAYS = 365

EXAMPLE_ISSUE = {"holder": "Rail & Kiln bookkeeping", "role": "bookkeeper", "expires_in_days": 90}
EXAMPLE_RENAME = {"holder": "Bookkeeping, second desk"}


@dataclass(frozen=True, kw_only=True)
class TokenChange:
    """What may be changed of a token."""

    holder: Annotated[str, Words(NAME_LENGTH), "Who has it."]


@dataclass(frozen=True, kw_only=True)
class NewToken(TokenChange):
    """What a new token is to be."""

    role: Annotated[str, Choice(*ROLES)]
    expires_in_days: Annotated[int, Whole(1, MOST_DAYS)] = USUAL_DAYS


@dataclass(frozen=True, kw_only=True)
class TokenQuery(PageQuery):
    """Which tokens are listed."""

    role: Annotated[str | None, Choice(*ROLES)] = None


class TokenAnswer(Answer):
    """A token, without its text."""

    id = ma.fields.UUID(required=True)
    holder = ma.fields.String(required=True)
    role = Choice(*ROLES, required=True)
    created_at = Moment(required=True)
    expires_at = Moment(required=True)
    revoked_at = Moment(required=True, allow_none=True)
    version = Whole(1, 10**9, required=True)


class IssuedToken(TokenAnswer):
    """A new token; its text is shown this once, and not when the request is sent again."""

    token = ma.fields.String()


class TokenPage(Page):
    """Some tokens, oldest first."""

    tokens = ma.fields.List(ma.fields.Nested(TokenAnswer), required=True)


class AccountAnswer(Answer):
    """The account of the token that asks."""

    id = ma.fields.UUID(required=True)
    name = ma.fields.String(required=True)
    role = Choice(*ROLES, required=True)
    token_id = ma.fields.UUID(required=True)
