"""Accounts and tokens: opening an account, issuing, finding and revoking a token.

The text of a token has 256 random bits and is shown once; only its SHA-256 is stored. That needs
no slow hash, because nobody can guess 256 bits.
"""

from __future__ import annotations

import hashlib
import hmac
import secrets
from datetime import datetime
from uuid import UUID, uuid4

from sqlalchemy import bindparam, select

from api.store.caller import Caller
from api.store.errors import NotFound
from api.store.models import Account, Token, table_of
from api.store.store import Store
from api.store.writing_session import WritingSession
from estimator.errors import fault

TOKEN_BYTES = 32
LONGEST_TOKEN = 200

_TOKENS = table_of(Token)
_BY_DIGEST = select(
    _TOKENS.c.id, _TOKENS.c.account_id, _TOKENS.c.role,
    _TOKENS.c.digest, _TOKENS.c.expires_at, _TOKENS.c.revoked_at,
).where(_TOKENS.c.digest == bindparam("digest"))  # fmt: skip


def open_account(store: Store, name: str, at: datetime) -> UUID:
    """Return the id of a new account."""
    account_id = uuid4()
    with store.unit_of_work(Caller(account_id), at) as work:
        work.add(Account(id=account_id, name=name, created_at=at))
        work.commit()
    return account_id


def issue_token(
    work: WritingSession, holder: str, role: str, expires_at: datetime
) -> tuple[Token, str]:
    """Return a new token of the caller's account, and the text that is never shown again."""
    text = secrets.token_urlsafe(TOKEN_BYTES)
    token = Token(
        holder=holder,
        role=role,
        digest=token_digest(text),
        created_at=work.at,
        expires_at=expires_at,
        revoked_at=None,
    )
    work.add(token)
    return token, text


def token_digest(text: str) -> str:
    """Return the digest that is stored for a token.

    Examples
    --------
    >>> token_digest("abc")[:16]
    'ba7816bf8f01cfea'
    """
    return hashlib.sha256(text.encode()).hexdigest()


def find_caller(store: Store, text: str, at: datetime) -> Caller:
    """Return who shows a token.

    Raises
    ------
    NotFound
        If there is no such token, or it has expired or was revoked; the error does not say which.
    """
    if 0 < len(text) <= LONGEST_TOKEN and text.isascii():
        digest = token_digest(text)
        row = store.row_across_accounts(_BY_DIGEST, digest=digest)
        if (
            row is not None
            and hmac.compare_digest(row.digest, digest)
            and row.revoked_at is None
            and row.expires_at > at
        ):
            return Caller(row.account_id, row.role, row.id)
    raise fault(NotFound, "the token is not valid", "ask the owner of the account for a new one")
