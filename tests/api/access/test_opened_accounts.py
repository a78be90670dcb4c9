"""Accounts that are opened at the machine: with the token of their owner, and one at a time."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Barrier

import pytest

from api.access.first_account import first_token, further_token
from api.access.opened_accounts import (
    TokenTerms,
    account_of,
    known_accounts,
    open_with_owner,
    token_for,
)
from api.store.accounts import find_caller
from api.store.errors import AlreadyThere, NotFound, StoreUnfit, ValueRefused
from tests.api.live import Live
from tests.api.store.made import AT

OWNER = TokenTerms("owner", "owner", AT + timedelta(days=365))
TOGETHER = 4


def names(store) -> list[str]:
    return [one.name for one in known_accounts(store, AT)]


def test_an_account_opens_with_a_token_that_opens_it(store):
    opened = open_with_owner(store, "Rail & Kiln", OWNER, AT)
    caller = find_caller(store, opened.token, AT)
    assert (caller.account_id, caller.role) == (opened.account_id, "owner")
    further = token_for(store, opened.account_id, OWNER, AT)
    assert find_caller(store, further, AT).account_id == opened.account_id
    assert [one.tokens for one in known_accounts(store, AT)] == [2]
    assert [one.tokens for one in known_accounts(store, AT + timedelta(days=366))] == [0]


def test_without_its_token_an_account_is_not_opened(store):
    with pytest.raises(ValueRefused):
        open_with_owner(store, "Rail & Kiln", TokenTerms("owner", "owner", AT), AT)
    assert names(store) == []


def test_a_name_is_given_once(store):
    open_with_owner(store, "Rail & Kiln", OWNER, AT)
    with pytest.raises(AlreadyThere, match="there is an account 'Rail & Kiln'"):
        open_with_owner(store, "Rail & Kiln", OWNER, AT)
    assert names(store) == ["Rail & Kiln"]


def test_an_account_is_found_by_name_and_by_id(store):
    opened = open_with_owner(store, "Rail & Kiln", OWNER, AT)
    assert account_of(store, "Rail & Kiln") == opened.account_id
    assert account_of(store, str(opened.account_id)) == opened.account_id
    with pytest.raises(NotFound, match="there is no account 'rail'"):
        account_of(store, "rail")


def test_a_further_token_is_of_the_only_account(store):
    first_token(store, AT)
    assert find_caller(store, further_token(store, AT), AT)
    open_with_owner(store, "Rail & Kiln", OWNER, AT)
    with pytest.raises(StoreUnfit, match="'groundsill account token NAME'"):
        further_token(store, AT)


def test_of_those_that_start_at_once_one_opens_the_first_account(url, opened):
    stores = [opened(url) for _ in range(TOGETHER)]
    start = Barrier(TOGETHER)

    def start_one(store):
        start.wait()
        return first_token(store, AT)

    with ThreadPoolExecutor(TOGETHER) as many:
        tokens = [one for one in many.map(start_one, stores) if one]
    assert len(tokens) == 1
    assert names(stores[0]) == ["Own account"]


def test_of_those_that_open_one_name_at_once_one_does(url, opened):
    stores = [opened(url) for _ in range(TOGETHER)]
    start = Barrier(TOGETHER)

    def open_one(store):
        start.wait()
        try:
            return open_with_owner(store, "Rail & Kiln", OWNER, AT)
        except AlreadyThere:
            return None

    with ThreadPoolExecutor(TOGETHER) as many:
        found = [one for one in many.map(open_one, stores) if one]
    assert len(found) == 1
    assert names(stores[0]) == ["Rail & Kiln"]


def test_two_hosts_that_start_at_once_on_postgresql_show_one_token(tmp_path, server):
    url = server.migrated()
    hosts = []
    for name in ("first", "second"):
        (tmp_path / name).mkdir()
        hosts.append(Live(tmp_path / name, {"GROUNDSILL_DATABASE_URL": url}))
    try:
        for host in hosts:
            host.wait()
        tokens = [host.token for host in hosts if host.token]
        assert len(tokens) == 1
        answers = [
            host.send("GET", "/v1/account", headers={"Authorization": f"Bearer {tokens[0]}"})
            for host in hosts
        ]
        assert [one.status for one in answers] == [200, 200]
    finally:
        for host in hosts:
            host.stop()
