"""What the record teaches: prices with their evidence, pace, turnaround, waste; a draft."""

from __future__ import annotations

import csv
import re
from datetime import date
from decimal import Decimal
from io import StringIO

import pytest

from estimator.opening import SAMPLE_SCOPE, open_scope
from estimator.pricing.printed_estimate import printed_estimate
from estimator.rates.written_folder import write_folder
from estimator.scheduling.dated_estimate import price
from tests.api.estimates.made import PITS
from tests.api.ledger.made import STONE, cost, open_books, posted
from tests.api.service import new_key
from tests.commands.running import groundsill


@pytest.fixture
def books(service):
    """Three weeks of stone: 20 tons each for $500, $510 and $520, measured and timed."""
    books = open_books(service)
    for week, (net, in_place, worked) in enumerate(
        [("500.00", "16", "8"), ("510.00", "32", "9"), ("520.00", "48", "10")]
    ):
        day = {"happened": f"2026-02-{10 + week}"}
        bill = cost(document=f"Q-{week}", net=net, tax="0.00", quantity="20", unit="ton")
        posted(service, books, "costs", **bill, **day)
        ticket = {
            "number": f"T-{week}", "vendor": "Quarry", "quantity": "20", "unit": "ton",
            "amount": "0.00", "came": "09:00", "left": f"09:{26 + week}",
            "waited_minutes": 6, **STONE, **day,
        }  # fmt: skip
        posted(service, books, "tickets", **ticket)
        hours = {"person": "AB", "trade": "laborer", "code": "30.020", "hours": worked}
        posted(service, books, "hours", **hours, rate="24.00", **day)
        posted(service, books, "progress", code="30.020", in_place=in_place, **day)
    return books


def learned(service, books):
    told = service.get(f"{books}/learned-rates").json
    return {one["what"]: one for one in told["learned"]}, told["tables"]


def test_a_price_is_the_mean_by_quantity_with_its_interval_and_evidence(service, books):
    """$1,530 for 60 tons: $25.50; s = sqrt(200 / 6) / 20 = 0.2887, t(2, 80 %) = 1.8856."""
    rates, _ = learned(service, books)
    price = rates["price"]
    assert (price["code"], price["unit"]) == ("crushed-stone-4", "$/ton")
    assert (price["observations"], price["mean"], price["low"], price["high"]) == (
        3, "25.5000", "24.9557", "26.0443",
    )  # fmt: skip
    assert price["table"] == "26.0000"
    assert price["evidence"].startswith("own record: 3 observations, mean 25.5 $/ton, 80 % interv")


def test_pace_turnaround_and_waste_come_from_hours_measurements_and_tickets(service, books):
    """27 hr for 48 tons; 20, 21 and 22 minutes; 60 tons delivered for 48."""
    rates, _ = learned(service, books)
    assert (rates["pace"]["unit"], rates["pace"]["mean"]) == ("hr/ton", "0.5625")
    assert (rates["turnaround"]["code"], rates["turnaround"]["mean"]) == ("Quarry", "21.0000")
    assert rates["waste"]["mean"] == "0.2500"


def test_the_proposed_rows_make_a_draft_of_a_rate_set_and_price_the_project(service, books):
    _, tables = learned(service, books)
    made = service.post("/v1/rate-sets", {"name": "Own record"}, headers=new_key()).json
    at = f"/v1/rate-sets/{made['id']}/versions"
    draft = service.post(at, {"tables": tables}, headers=new_key())
    assert draft.status_code == 201, draft.text
    rows = service.get(f"{at}/{draft.json['id']}/rows").json["rows"]
    prices = [one["cells"] for one in rows if one["file"] == "resources.csv"]
    assert [one["code"] for one in prices] == ["crushed-stone-4"]
    assert prices[0]["source"].startswith("own record: 3 observations")


def test_with_the_proposed_rows_an_item_takes_the_hours_that_were_proposed(
    service, books, tmp_path
):
    """The crew's hours follow its production rate, which is in the assembly's own rows."""
    rates, tables = learned(service, books)
    (pace,) = [
        row for row in csv.DictReader(StringIO(tables["assembly_inputs.csv"]))
        if row["input"] == "production_rate"
    ]  # fmt: skip
    assert pace["assembly"] == "stone-fill-skid-steer"
    assert "; item 30.020; common practice and own record, no source: " in pace["source"]
    write_folder(tmp_path / "learned", tables)
    (tmp_path / "scope.yaml").write_text(PITS)
    printed = printed_estimate(price(*open_scope(tmp_path / "scope.yaml", tmp_path / "learned")))
    hours = sum(
        Decimal(one.ordered).scaleb(-one.decimals) for one in printed.lines
        if one.item == "30.020" and one.kind == "labor"
    )  # fmt: skip
    each = hours / next(one.quantity for one in printed.items if one.item == "30.020")
    assert float(each) == pytest.approx(float(rates["pace"]["proposed"]), rel=1e-3)


def test_a_waste_that_was_learned_is_written_with_its_evidence_and_a_truck_said_in_words(
    service, books
):
    """60 tons came for 48 placed, where the table has 3 %; of 27 minutes trucks wait 6."""
    rates, tables = learned(service, books)
    assert (rates["waste"]["table"], rates["waste"]["proposed"]) == ("0.0300", "0.2500")
    (waste,) = [
        row for row in csv.DictReader(StringIO(tables["assembly_inputs.csv"]))
        if row["input"] == "waste"
    ]  # fmt: skip
    assert (waste["assembly"], waste["default"]) == ("stone-fill-skid-steer", "0.25")
    assert waste["source"].startswith("own record: 3 observations, mean 0.25 ton/ton")
    assert service.get(f"{books}/learned-rates").json["in_scope"] == [
        "trucks of Quarry stay 21.0 minutes, without the waiting that tickets state (3 tickets): "
        "that is the total for the on-site steps of their working system"
    ]


def test_what_the_scopes_would_cost_is_shown_where_it_is_requested(service, books):
    (scope,) = service.get(f"{books}/learned-rates?would_cost=yes").json["would_cost"]
    assert scope["project"] == "Harrow Lane Carbarn"
    assert Decimal(scope["now"]) < Decimal(scope["with_them"])


def test_two_bills_are_too_few_and_reversed_ones_do_not_count(service, books):
    entries = service.get(f"{books}/entries?kind=costs").json["entries"]
    where = f"{books}/entries/{entries[0]['id']}/reversal"
    service.post(where, {"happened": "2026-02-20"}, headers=new_key())
    rates, tables = learned(service, books)
    assert "price" not in rates
    assert "resources.csv" not in tables


def test_the_command_says_what_the_scope_would_cost_with_the_new_prices(opened):
    """Prices of 2026-06-14 with and without: what the two estimates come to, to the cent."""
    ran = groundsill("rates", "learn", "--as-of", "2026-06-14")
    assert ran.exit_code == 0, ran.err
    scope, tables, _ = open_scope(SAMPLE_SCOPE)
    now = price(scope, tables, date(2026, 6, 14)).cash_cost
    said = re.search(r"Harrow Lane Carbarn: \$(\S+), \$(\S+) more than now", ran.out)
    with_them, more = (Decimal(one.replace(",", "")) for one in said.groups())
    assert with_them - more == now
    assert more > 0
