"""Promise 17, as far as the store goes: tokens are long, kept as a digest, and end."""

from __future__ import annotations

from datetime import timedelta
from uuid import UUID

import pytest
from sqlalchemy import select, text

from api.store.accounts import find_caller, issue_token, open_account
from api.store.caller import Caller
from api.store.errors import NotFound
from api.store.models import Token
from tests.api.store.made import AT, filled

LATER = AT + timedelta(days=30)
# Both from FIPS 180-4's companion examples: SHA-256 of the one-block message "abc".
ABC_DIGEST = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


@pytest.fixture
def account(store):
    return Caller(open_account(store, "Tokens", AT))


def issued(store, account, role="owner"):
    with store.unit_of_work(account, AT) as work:
        token, shown = issue_token(work, "holder", role, LATER)
        work.commit()
    return token, shown


@pytest.mark.parametrize("role", ["owner", "bookkeeper", "lender"])
def test_a_token_tells_account_and_role(store, account, role):
    token, shown = issued(store, account, role)
    assert find_caller(store, shown, AT) == Caller(account.account_id, role, token.id)


def test_tokens_have_256_random_bits_and_differ(store, account):
    shown = {issued(store, account)[1] for _ in range(5)}
    assert len(shown) == 5
    assert all(len(one) == 43 for one in shown)  # 32 bytes in base 64


def test_only_the_digest_is_stored(store, account):
    from api.store.accounts import token_digest

    assert token_digest("abc") == ABC_DIGEST
    _, shown = issued(store, account)
    with store.across_accounts() as connection:
        for table in ("tokens", "audit_rows", "submissions"):
            said = str(connection.execute(text(f"SELECT * FROM {table}")).all())  # noqa: S608
            assert shown not in said


def test_a_token_ends_when_its_time_is_up(store, account):
    _, shown = issued(store, account)
    assert find_caller(store, shown, LATER - timedelta(microseconds=1))
    with pytest.raises(NotFound):
        find_caller(store, shown, LATER)


def test_a_revoked_token_ends_at_once(store, account):
    token, shown = issued(store, account)
    with store.unit_of_work(account, AT) as work:
        work.existing(Token, token.id).revoked_at = AT
        work.commit()
    with pytest.raises(NotFound, match="the token is not valid"):
        find_caller(store, shown, AT)


@pytest.mark.parametrize("shown", ["", "abc", "é" * 43, "a" * 201, "\x00", "' OR 1=1 --"])
def test_what_is_no_token_is_refused_in_the_same_words(store, account, shown):
    with pytest.raises(NotFound, match=r"^the token is not valid; ask the owner"):
        find_caller(store, shown, AT)


def test_an_account_that_is_not_there_has_nothing(store):
    made = filled(store)
    stranger = Caller(UUID(int=7))
    with store.reading(stranger) as session:
        assert session.scalars(select(Token)).all() == []
    assert made.caller.account_id != stranger.account_id
