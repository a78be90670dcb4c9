"""Promise 18: every error is a problem with its field named, and nothing of the inside leaks."""

from __future__ import annotations

import json
import pkgutil
import re
from http import HTTPStatus
from importlib import import_module

import pytest
from sqlalchemy import event
from sqlalchemy.exc import OperationalError
from werkzeug.exceptions import default_exceptions

import api
import estimator
from api.contract.errors import TooManyRequests
from api.contract.problems import MOST_ENTRIES, PROBLEMS, phrase_code
from api.store.errors import StoreBusy, StoreFaulty, StoreUnfit
from estimator.errors import Fault, GroundsillError, InputFaulty, ScopeFaulty
from tests.api.service import filled_path, guarded_routes, new_key

ISSUE = {"holder": "bank", "role": "lender"}


def all_errors(cls=GroundsillError):
    yield cls
    for child in cls.__subclasses__():
        if child.__module__.split(".")[0] in ("api", "estimator"):
            yield from all_errors(child)


def load_everything():
    for package in (api, estimator):
        for one in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            if not one.name.endswith((".__main__", ".migrations.env")):
                import_module(one.name)


def test_every_error_there_is_has_its_problem():
    load_everything()
    missing = sorted(cls.__name__ for cls in set(all_errors()) - PROBLEMS.keys())
    assert missing == [], "add them to PROBLEMS in api/contract/problems.py"


def test_every_code_is_one_class_and_reads_as_words():
    codes = [cls.code for cls in PROBLEMS]
    assert len(codes) == len(set(codes))
    assert all(re.fullmatch("[a-z]+(-[a-z]+)*", code) for code in codes)


def _raise(error):
    raise error


@pytest.fixture
def raised(embedded, monkeypatch):
    """Have an open route raise what is asked for."""

    def ask(error):
        monkeypatch.setitem(embedded.app.view_functions, "open.live", lambda: _raise(error))
        return embedded.get("/health/live", role="")

    return ask


@pytest.mark.parametrize("cls", PROBLEMS, ids=lambda cls: cls.code)
def test_each_error_is_answered_as_the_table_says(raised, cls):
    faults = [Fault("#/rates/day", "is negative", "write it without the sign")]
    error = cls("slow down", 3.2) if cls is TooManyRequests else (
        cls(faults) if issubclass(cls, InputFaulty) else cls("gone")
    )  # fmt: skip
    answer, problem = raised(error), PROBLEMS[cls]
    told = answer.json
    assert answer.status_code == told["status"] == problem.status
    assert answer.content_type == "application/problem+json"
    assert (told["code"], told["title"]) == (cls.code, problem.title)
    assert told["type"] == f"/v1/problems/{cls.code}"
    assert told["request_id"] == answer.headers["X-Request-Id"]
    if cls is TooManyRequests:
        assert answer.headers["Retry-After"] == "4"
    elif problem.status < 500:
        assert told["errors"] == [
            {
                "pointer": "#/rates/day",
                "what": "is negative",
                "remedy": "write it without the sign",
            }
        ]
        assert told["detail"] == "is negative; write it without the sign."


def test_a_busy_store_says_when_to_ask_again(raised):
    assert raised(StoreBusy([Fault("", "busy")])).headers["Retry-After"] == "1"


INSIDE = [
    StoreUnfit([Fault("/home/builder/groundsill.sqlite3", "is not there")]),
    StoreFaulty([Fault("", "SELECT * FROM tokens: malformed")]),
    OperationalError("SELECT digest FROM tokens", {}, Exception("password=hunter2")),
    ValueError("/usr/lib/python3.11/site-packages"),
    RecursionError("maximum depth"),
    KeyError("secret"),
    MemoryError(),
]


@pytest.mark.parametrize("error", INSIDE, ids=lambda error: type(error).__name__)
def test_what_the_service_gets_wrong_shows_nothing_of_its_inside(raised, error, caplog, capfd):
    answer = raised(error)
    assert answer.status_code in (500, 503)
    told = answer.text
    for leak in ("SELECT", "/home", "/usr", "hunter2", "secret", "Traceback", "Error", "File"):
        assert leak not in told.replace("Internal Server Error", "")
    written = caplog.text + capfd.readouterr().err
    assert answer.json["request_id"] in written


def test_many_faults_are_counted_and_the_first_of_them_reported(raised):
    faults = [Fault(f"line {n}", "is wrong") for n in range(9_000)]
    told = raised(ScopeFaulty(faults)).json
    assert told["detail"] == "9,000 problems found, 8,800 of them not listed; nothing was changed."
    assert len(told["errors"]) == MOST_ENTRIES
    assert told["errors"][0] == {"where": "line 0", "what": "is wrong"}


def test_a_path_that_is_not_there_is_a_problem(embedded):
    for path in ("/v1", "/v2/tokens", "/v1//tokens", "/v1/tokens/", "/v1/tokens/5", "/v1/%00"):
        answer = embedded.get(path)
        assert (path, answer.status_code) == (path, 404)
        assert answer.json["code"] == "not-found"


def test_every_route_tells_which_methods_it_takes(embedded):
    for route in guarded_routes(embedded.app):
        method, path = filled_path(route, "00000000-0000-4000-8000-000000000000")
        answer = embedded.send("TRACE", path)
        assert answer.status_code == 405
        assert method in answer.headers["Allow"]
        assert answer.json["code"] == "method-not-allowed"


def test_the_type_of_a_problem_is_an_address_that_explains_it(embedded):
    told = embedded.post("/v1/calculations/rental", {}).json
    meaning = embedded.get(told["type"], role="").json
    assert meaning["status"] == 422
    assert meaning["meaning"].startswith("Fields of the request are missing")
    assert embedded.get("/v1/problems/none", role="").status_code == 404
    listed = embedded.get("/v1/problems", role="").json["problems"]
    assert {cls.code for cls in PROBLEMS} <= {one["code"] for one in listed}


def test_every_type_that_flask_announces_answers_too(embedded):
    answers = [embedded.send("TRACE", "/v1/tokens"), embedded.get("/v1/none")]
    assert [answer.status_code for answer in answers] == [405, 404]
    for answer in answers:
        meaning = embedded.get(answer.json["type"], role="").json
        assert meaning["status"] == answer.status_code
        assert meaning["meaning"]
    for status in default_exceptions:
        told = embedded.get(f"/v1/problems/{phrase_code(HTTPStatus(status).phrase)}", role="")
        assert told.status_code == 200


def test_a_full_disk_says_when_to_ask_again_and_loses_nothing(embedded):
    def fill(connection, _record):
        connection.execute("PRAGMA max_page_count=1")

    event.listen(embedded.store.engine, "connect", fill)
    embedded.store.engine.dispose()
    answers = [embedded.post("/v1/tokens", ISSUE, headers=new_key()) for _ in range(40)]
    refused = next(one for one in answers if one.status_code >= 400)
    assert (refused.status_code, refused.json["code"]) == (507, "disk-full")
    assert refused.headers["Retry-After"] == "60"
    event.remove(embedded.store.engine, "connect", fill)
    embedded.store.engine.dispose()
    made = embedded.post("/v1/tokens", ISSUE, headers=new_key())
    assert made.status_code == 201


def test_an_outage_writes_one_line_a_request(raised, caplog, capfd):
    capfd.readouterr()
    raised(StoreBusy([Fault("", "the database cannot be reached")]))
    (line,) = capfd.readouterr().err.splitlines()
    assert json.loads(line)["outage"] == "the database cannot be reached"
    assert caplog.text == ""


@pytest.mark.parametrize(
    ("given", "told"),
    [("order-7", "order-7"), ("a b", None), ("x" * 65, None), ("<script>", None), ("", None)],
)
def test_a_request_keeps_the_number_that_its_client_gave_if_it_is_a_fit_one(embedded, given, told):
    answer = embedded.get("/v1/account", headers={"X-Request-Id": given})
    number = answer.headers["X-Request-Id"]
    assert number == told if told else re.fullmatch("[0-9a-f]{32}", number)


def test_the_log_tells_routes_and_people_but_nothing_that_was_typed(embedded, capfd):
    embedded.get("/v1/tokens?cursor=typed-by-hand")
    embedded.get("/v1/typed-by-hand")
    told = capfd.readouterr().err
    lines = told.splitlines()
    assert '"route": "/v1/tokens"' in lines[0]
    assert f'"account": "{embedded.account_id}"' in lines[0]
    assert '"route": "none", "status": 404' in lines[1]
    assert "typed-by-hand" not in told
