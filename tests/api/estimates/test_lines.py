"""Lines of an estimate: filters, pages, what they come to, and the working of each."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest

from tests.api.estimates.made import PITS, keep_project, path_of, priced
from tests.commands.running import groundsill


@pytest.fixture
def estimate(service):
    return path_of(priced(service, keep_project(service)))


def lines(service, estimate, asked=""):
    answer = service.get(f"{estimate}/lines?{asked}")
    assert answer.status_code == 200, answer.text
    return answer.json


def test_lines_are_those_of_the_document_in_its_order(service, estimate):
    wanted = json.loads(service.get(f"{estimate}/document").text)["lines"]
    told = lines(service, estimate)["lines"]
    assert [one["position"] for one in told] == list(range(1, len(wanted) + 1))
    for line, said in zip(told, wanted, strict=True):
        rate, said["rate"] = Decimal(said["rate"]), line["rate"]
        assert Decimal(line["rate"]) == rate
        assert {name: line[name] for name in said} == said
        assert (line["phase"], line["item"][:3]) == ("30", "30.")


def test_pages_follow_each_other_without_a_gap(service, estimate):
    found, cursor = [], ""
    while True:
        page = lines(service, estimate, f"limit=2{cursor}")
        assert page["selected"]["count"] == service.get(estimate).json["line_count"]
        found += [one["position"] for one in page["lines"]]
        if page["next"] is None:
            break
        cursor = f"&cursor={page['next']}"
    assert found == list(range(1, len(found) + 1))


FILTERS = [
    ("item=30.020", lambda one: one["item"] == "30.020"),
    ("phase=31", lambda one: one["phase"] == "31"),
    ("kind=labor", lambda one: one["kind"] == "labor"),
    ("resource=geotextile", lambda one: one["resource"] == "geotextile"),
    ("assembly=geotextile", lambda one: one["assembly"] == "geotextile"),
    ("paid=true", lambda one: one["paid"]),
    ("paid=false", lambda one: not one["paid"]),
    ("least=500&most=2000.50", lambda one: 500 <= Decimal(one["amount"]) <= Decimal("2000.5")),
    ("item=30.020&kind=haul", lambda one: one["item"] == "30.020" and one["kind"] == "haul"),
]


def test_filters_select_and_tell_what_their_lines_come_to(service, estimate):
    every = lines(service, estimate)["lines"]
    shown = {query: lines(service, estimate, query) for query, _ in FILTERS}
    wanted = {query: [one for one in every if fits(one)] for query, fits in FILTERS}
    assert {query: page["lines"] for query, page in shown.items()} == wanted
    assert {query: page["selected"] for query, page in shown.items()} == {
        query: {
            "count": len(listed),
            "cash": summed(one for one in listed if one["paid"]),
            "own": summed(one for one in listed if not one["paid"]),
            "sales": "0.00",
        }
        for query, listed in wanted.items()
    }


def summed(listed):
    return f"{sum((Decimal(one['amount']) for one in listed), Decimal('0.00')):f}"


RAILS = PITS.replace(
    "    items:\n",
    """    items:
      - code: "005"
        name: Pit rails
        assembly: steel-beams-out
        inputs: {beams: 22 ea, length: 15 ft 3 in, weight: 31.8 lb/ft}
""",
)


def test_what_salvage_is_sold_for_is_in_no_total_that_a_lender_sees(service):
    """22 x 15.25 ft x 31.8 lb/ft / 2,000 lb x 95 % = 5.07 ton at $165."""
    plain = service.get(path_of(priced(service, keep_project(service)))).json["totals"]
    estimate = path_of(priced(service, keep_project(service, RAILS.encode())))
    told = lines(service, estimate, "kind=salvage")
    (sale,) = told["lines"]
    assert (sale["paid"], sale["amount"], told["selected"]["sales"]) == (False, "836.55", "836.55")
    assert (told["selected"]["cash"], told["selected"]["own"]) == ("0.00", "0.00")
    item = lines(service, estimate, "item=30.005")["selected"]
    totals = service.get(estimate).json["totals"]
    rise = Decimal(totals["direct_cost"]) - Decimal(plain["direct_cost"])
    assert rise == Decimal(item["cash"]) > 0
    assert item["sales"] == sale["amount"]


@pytest.mark.parametrize("asked", ["least=-5", "least=1e3", "paid=maybe", "colour=red", "limit=0"])
def test_a_filter_that_cannot_be_is_refused_by_name(service, estimate, asked):
    answer = service.get(f"{estimate}/lines?{asked}")
    assert (answer.status_code, answer.json["code"]) == (422, "fields-faulty")
    assert answer.json["errors"][0]["parameter"] == asked.split("=")[0]


def test_a_cursor_of_other_filters_is_refused(service, estimate):
    cursor = lines(service, estimate, "limit=1&least=1.50")["next"]
    assert service.get(f"{estimate}/lines?limit=1&least=1.50&cursor={cursor}").status_code == 200
    other = service.get(f"{estimate}/lines?limit=1&least=2&cursor={cursor}")
    assert (other.status_code, other.json["code"]) == (400, "cursor-faulty")


DATED = """\
calendar:
  start: 2026-04-06
  inspections: [{name: Fabric, before: "30.020"}]
  escalation: {yearly: 4 %}
"""


@pytest.mark.parametrize("calendar", ["", DATED])
def test_each_line_is_explained_as_the_command_explains_it(embedded, tmp_path, calendar):
    """Rents by their dates and moved prices too; what was inspected is another item."""
    estimate = path_of(priced(embedded, keep_project(embedded, (PITS + calendar).encode())))
    scope = tmp_path / "scope.yaml"
    scope.write_text(PITS + calendar)
    shown = {
        code: "".join(groundsill("explain", str(scope), "--item", code).out.split())
        for code in ("30.010", "30.020")
    }
    every = []
    for code, text in shown.items():
        told = embedded.get(f"{estimate}/explanations?item={code}").json["explanations"]
        for one in told:
            assert one["title"].startswith(f"{code}/{one['line']}")
            for step in one["steps"]:
                assert "".join(step.split()) in text
        every += [(one["item"], one["line"]) for one in told]
        last = embedded.get(f"{estimate}/explanations?item={code}&line={told[-1]['line']}").json
        assert last["explanations"] == told[-1:]
    assert every == [(one["item"], one["line"]) for one in lines(embedded, estimate)["lines"]]


@pytest.mark.parametrize("asked", ["item=30.030", "item=30.010&line=99", "item=30.020/1"])
def test_a_line_that_is_not_there_is_not_explained(service, estimate, asked):
    answer = service.get(f"{estimate}/explanations?{asked}")
    assert (answer.status_code, answer.json["code"]) == (404, "not-found")


@pytest.mark.parametrize("asked", ["", "line=1", "item=30.010&line=0", "item=30.010&line=x"])
def test_a_question_that_cannot_be_is_refused(service, estimate, asked):
    assert service.get(f"{estimate}/explanations?{asked}").status_code == 422
