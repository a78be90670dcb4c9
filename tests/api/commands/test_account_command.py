"""`groundsill account`: a second account, and a way back in for somebody who lost their token."""

from __future__ import annotations

import json
import re

import pytest
from sqlalchemy import select

from api.store.models import AuditRow, table_of
from api.store.store import open_store
from tests.api.live import served
from tests.commands.running import groundsill

UUID = r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}"
SHOWN = r"[\w-]{43}"
OPENED = rf"Account Rail & Kiln is open: ({UUID})\nOwner's token, shown this once: ({SHOWN})\n"
LISTED = rf"{UUID}  \d{{4}}-\d\d-\d\d  (\d+ valid tokens?) +(.+)"


@pytest.fixture
def named(url, monkeypatch, tmp_path) -> str:
    """The URL of a fresh database of each kind, which the commands are told of."""
    monkeypatch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path / "data"))
    monkeypatch.setenv("GROUNDSILL_DATABASE_URL", url)
    return url


def opened(name: str = "Rail & Kiln", *options: str) -> tuple[str, str]:
    """Return id and token of an account that was opened."""
    ran = groundsill("account", "open", name, *options)
    assert ran.exit_code == 0, ran.err
    found = re.fullmatch(OPENED.replace("Rail & Kiln", re.escape(name)), ran.out)
    assert found, ran.out
    return found[1], found[2]


def test_an_account_is_opened_listed_and_let_in_again(named):
    account_id, _ = opened()
    assert "there is an account 'Rail & Kiln'" in groundsill("account", "open", "Rail & Kiln").err
    opened("Depot Döblin")
    for name_or_id in ("Rail & Kiln", account_id):
        further = groundsill(
            "account", "token", name_or_id, "--role", "bookkeeper", "--holder", "Books",
            "--days", "30",
        )  # fmt: skip
        shown = rf"Token of account {account_id} as bookkeeper, shown this once: {SHOWN}\n"
        assert re.fullmatch(shown, further.out), further.err
    listed = groundsill("account", "list").out.splitlines()
    assert [re.fullmatch(LISTED, line).groups() for line in listed] == [
        ("3 valid tokens", "Rail & Kiln"),
        ("1 valid token", "Depot Döblin"),
    ]
    assert actors(named) == {"command line"}
    assert groundsill("database", "verify").exit_code == 0


def actors(url: str) -> set[str]:
    """Return who the audit trail says it was."""
    store = open_store(url)
    with store.across_accounts() as connection:
        found = set(connection.scalars(select(table_of(AuditRow).c.actor)))
    store.close()
    return found


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("open", "  "), "give a name in letters, on one line"),
        (("open", "a\nb"), "give a name in letters, on one line"),
        (("open", "Shed", "--days", "0"), "0 is not in the range 1<=x<=3650"),
        (("token", "Shed", "--role", "guest"), "'guest' is not one of"),
    ],
)
def test_a_wrong_call_is_a_sentence(arguments, sentence):
    ran = groundsill("account", *arguments)
    assert ran.exit_code == 2
    assert sentence in ran.err


def test_an_account_that_is_not_there_is_a_sentence(named):
    ran = groundsill("account", "token", "Nobody")
    assert ran.exit_code == 1
    assert "there is no account 'Nobody'; 'groundsill account list' shows them" in ran.err


def test_a_name_that_is_too_long_is_a_sentence(named):
    ran = groundsill("account", "open", "x" * 201)
    assert ran.exit_code == 1
    assert "1 to 200 are kept" in ran.err
    assert groundsill("account", "list").out == ""


def test_what_is_opened_while_the_service_runs_is_let_in_at_once(tmp_path, monkeypatch):
    with served(tmp_path) as live:
        monkeypatch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path / "data"))
        account_id, token = opened()
        answer = live.send("GET", "/v1/account", headers={"Authorization": f"Bearer {token}"})
        assert (answer.status, account_id in answer.text) == (200, True)
        assert account_id not in live.ask("GET", "/v1/account").text


def test_the_trail_of_an_account_is_shown_the_latest_first(named):
    account_id, _ = opened()
    shown = groundsill("account", "trail", "Rail & Kiln").out.splitlines()
    told = r" +{}  \d{{4}}-\d\d-\d\d \d\d:\d\d:\d\d  command line  created {} {}"
    assert re.fullmatch(told.format(2, "tokens", UUID), shown[0])
    assert re.fullmatch(told.format(1, "accounts", account_id), shown[1])
    assert len(shown) == 2
    latest = json.loads(groundsill("account", "trail", account_id, "--limit", "1", "--json").out)
    assert (latest["number"], latest["before"], latest["after"]["role"]) == (2, None, "owner")
    of_one = groundsill("account", "trail", account_id, "--id", account_id, "--subject", "accounts")
    assert of_one.out.splitlines() == shown[1:]
    assert "there is no account 'Nobody'" in groundsill("account", "trail", "Nobody").err
