"""What is shown of a stored estimate is what was stored, whatever the program is by then."""

from __future__ import annotations

from dataclasses import field, make_dataclass, replace
from io import BytesIO

import pytest
from openpyxl import load_workbook

from estimator import __version__
from estimator.pricing import engine, priced_lines
from estimator.scope import scope_reader
from estimator.scope.scope import Item
from estimator.scope.scope_digest import COVERED
from tests.api.estimates.made import keep_project, path_of, priced
from tests.api.estimates.test_estimates import share
from tests.api.service import new_key
from tests.api.store.test_trail import tampered

DOLLAR = 100


@pytest.fixture
def project(service):
    return keep_project(service)


@pytest.fixture
def two(service, project):
    """Two estimates, at the rates of two days."""
    return path_of(priced(service, project)), path_of(priced(service, project, on="2026-05-04"))


def shown(service, two):
    """Return all that is shown of an estimate, but for its working."""
    estimate, other = two
    against = other.rsplit("/", 1)[1]
    rests = ("", "/lines", "/document", "/workbook", f"/difference?against={against}")
    answers = [service.get(f"{estimate}{rest}") for rest in rests]
    assert [one.status_code for one in answers] == [200] * len(rests)
    return [one.data for one in answers]


def working(service, estimate, item="30.020"):
    """Return the steps of the working of an item, line by line."""
    answer = service.get(f"{estimate}/explanations?item={item}")
    assert answer.status_code == 200, answer.text
    return [one["steps"] for one in answer.json["explanations"]]


def a_dollar_more_a_line(*arguments):
    """Return lines as an engine with a fault would price them."""
    lines = priced_lines.joined_lines(*arguments)
    return replace(lines, cents=lines.cents + DOLLAR)


def test_an_engine_that_adds_a_dollar_to_each_line_changes_nothing_stored(
    service, project, two, monkeypatch
):
    before, steps = shown(service, two), working(service, two[0])
    assert not any("only what was stored" in step for line in steps for step in line)
    total, count = priced_total(service, two[0])
    monkeypatch.setattr(engine, "joined_lines", a_dollar_more_a_line)
    assert shown(service, two) == before
    assert working(service, two[0]) == steps
    dearer = service.get(path_of(priced(service, project))).json["totals"]
    assert float(dearer["direct_cost"]) >= total + count - 1
    book = load_workbook(BytesIO(before[3]), data_only=True)
    values = [row[3].value for row in book["Summary"].iter_rows() if row[0].value == "Direct cost"]
    assert values[0] == total


@pytest.mark.parametrize(
    ("study", "body"), [("comparisons", {"item": "30.020"}), ("ranges", {"iterations": 100})]
)
def test_an_estimate_that_comes_out_otherwise_is_not_studied(
    service, two, monkeypatch, study, body
):
    monkeypatch.setattr(engine, "joined_lines", a_dollar_more_a_line)
    refused = service.post(f"{two[0]}/{study}", body, headers=new_key())
    assert (refused.status_code, refused.json["code"]) == (409, "made-differently")
    assert f"made with version {__version__}" in refused.json["errors"][0]["what"]
    assert service.get(f"{two[0]}/{study}").json["studies"] == []


def priced_total(service, estimate):
    told = service.get(estimate).json
    return float(told["totals"]["direct_cost"]), told["line_count"]


def test_a_line_that_comes_out_otherwise_is_shown_as_stored_and_says_who_made_it(
    service, two, monkeypatch
):
    exact = priced_lines.extension_cents
    monkeypatch.setattr(priced_lines, "extension_cents", lambda *of: exact(*of) + DOLLAR)
    assert working(service, two[0], "30.010")[-1] == [
        "3.00 rolls x $215.00 per roll = $645.00",
        "rate from shipped resources.csv row 30: illustrative, invented for the demo",
        f"priced with version {__version__} of the program; this one does not come to the same "
        "figures, so only what was stored is shown",
    ]


def test_a_scope_that_can_no_longer_be_read_leaves_what_was_stored(service, two, monkeypatch):
    before = shown(service, two)
    monkeypatch.setattr(scope_reader, "Item", None)
    assert shown(service, two) == before
    assert all("only what was stored is shown" in steps[-1] for steps in working(service, two[0]))


def test_the_working_of_an_item_is_found_without_reading_another(service, two):
    steps = working(service, two[0])
    lost = "UPDATE estimates SET scope = replace(scope, '\"geotextile\"', '\"lost\"')"
    tampered(service.store, (lost, {}))
    assert working(service, two[0]) == steps
    assert "only what was stored is shown" in working(service, two[0], "30.010")[0][-1]


def test_a_field_that_items_get_later_changes_nothing_stored_and_no_digest(
    service, project, two, monkeypatch
):
    before, steps = shown(service, two), working(service, two[0])
    later = make_dataclass("Later", [("color", str, field(default=""))], bases=(Item,), frozen=True)
    monkeypatch.setattr(scope_reader, "Item", later)
    monkeypatch.setitem(COVERED, later, COVERED[Item])
    assert shown(service, two) == before
    assert working(service, two[0]) == steps
    digests = [
        service.get(one).json["digest"] for one in (two[0], path_of(priced(service, project)))
    ]
    assert digests[0] == digests[1]


ALTERED = {
    "a line": "UPDATE estimate_lines SET source = 'a friend' WHERE position = 1",
    "amount": "UPDATE estimate_lines SET cents = cents + 1 WHERE position = 1",
    "a line is gone": "DELETE FROM estimate_lines WHERE position = 1",
    "totals": "UPDATE estimates SET markup_cents = markup_cents + 1, cash_cents = cash_cents + 1, "
    "full_cents = full_cents + 1",
    "document": "UPDATE estimates SET document = replace(document, 'Pits filled', 'Pits full')",
    "tables_digest": "UPDATE estimates SET tables_digest = scope_digest",
}
READS = ("", "/lines", "/document", "/workbook", "/explanations?item=30.010")


@pytest.mark.parametrize("what", ALTERED)
def test_a_lender_is_handed_nothing_that_was_altered(service, project, what):
    estimate = path_of(priced(service, project))
    share(service, project)
    tampered(service.store, (ALTERED[what], {}))
    for rest in READS:
        answer = service.get(f"{estimate}{rest}", role="lender")
        assert (rest, answer.status_code, answer.json["code"]) == (rest, 500, "store-faulty")


@pytest.mark.parametrize("rest", ["estimates", "budget"])
def test_totals_that_are_listed_for_a_lender_are_sums_of_stored_lines(service, project, rest):
    estimate = path_of(priced(service, project))
    service.post(f"{estimate}/acceptance", headers=new_key())
    share(service, project)
    assert service.get(f"{project}/{rest}", role="lender").status_code == 200
    tampered(service.store, (ALTERED["amount"], {}))
    assert service.get(f"{project}/{rest}", role="lender").json["code"] == "store-faulty"


ALTERED_STUDIES = {
    "document": "UPDATE estimate_studies SET document = replace(document, '30.020', '30.021')",
    "number": "UPDATE estimate_studies SET number = number + 1",
    "its audit row": "UPDATE audit_rows SET after = NULL WHERE subject = 'estimate_studies'",
}


@pytest.mark.parametrize("what", ALTERED_STUDIES)
def test_a_lender_is_handed_no_study_that_was_altered(service, project, what):
    estimate = path_of(priced(service, project))
    made = service.post(f"{estimate}/comparisons", {"item": "30.020"}, headers=new_key())
    share(service, project)
    reads = (path_of(made), f"{estimate}/comparisons")
    assert [service.get(one, role="lender").status_code for one in reads] == [200, 200]
    tampered(service.store, (ALTERED_STUDIES[what], {}))
    for one in reads:
        assert service.get(one, role="lender").json["code"] == "store-faulty"
