"""Each command of docs/draws.md prints what the page shows; the sample's draws add up."""

from __future__ import annotations

import json
import re
import shutil
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from estimator.funding.draws import (
    BASES,
    PRO_RATA,
    EquityTerms,
    LineState,
    draw_line,
    owner_part,
)
from estimator.funding.loan_interest import (
    BalanceChange,
    RateStep,
    accrued_interest,
    monthly_interest,
)
from estimator.funding.retainage import (
    EVERYTHING,
    NEW_WORK,
    STOP,
    RetainageTerms,
    retainage_held,
)
from estimator.money import cents_money, whole_half_up
from tests.commands.console import agrees, shown_commands, words_of
from tests.commands.running import groundsill

PAGE = Path("docs/draws.md").read_text(encoding="utf-8")
COMMANDS = shown_commands(PAGE)
REFUSED = re.search(r"^```sh\n(groundsill draw .*)\n```\n\n> (.*)$", PAGE, re.MULTILINE)
LOAN = Path("estimator/sample/harrow-lane-loan.yaml")

pytestmark = pytest.mark.xdist_group("page of draws")


@pytest.fixture(scope="module")
def printed(tmp_path_factory, sample_books):
    """What each command of the page prints, one after the other on a copy of the sample."""
    folder = tmp_path_factory.mktemp("draws")
    shutil.copytree(sample_books[0], folder / "data")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GROUNDSILL_DATA_FOLDER", str(folder / "data"))
        patch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
        assert COMMANDS[0][0] == "groundsill books demo"
        later = [groundsill(*words_of(command), folder=folder) for command, _ in COMMANDS[1:]]
        yield [sample_books[1], *later]


@pytest.mark.parametrize("place", range(len(COMMANDS)))
def test_the_page_shows_what_the_command_prints(printed, place):
    command, shown = COMMANDS[place]
    ran = printed[place]
    assert ran.exit_code == 0, ran.err
    assert agrees(shown, ran.out.splitlines()), f"{command}\n{ran.out}"


def test_the_page_shows_the_terms_of_the_sample():
    assert LOAN.read_text(encoding="utf-8").strip() in PAGE


def test_each_dollar_of_the_second_draw_is_walked_back_to_its_receipts(printed):
    told = json.loads(groundsill("trace", "--draw", "2", "--json").out)
    cents = Decimal(0)
    for line in told["lines"]:
        receipts = sum(Decimal(one["drawn"]) for one in line["receipts"])
        assert receipts + Decimal(line["without_receipt"]) == Decimal(line["billed"])
        assert all(one["row"] and one["vendor"] for one in line["receipts"])
        cents += receipts - Decimal(line["retained"])
    assert cents == Decimal(told["requested"]) == Decimal("61692.63")
    assert groundsill("database", "verify").exit_code == 0


def test_receipts_and_payees_of_the_draws_are_worked_on_the_page(printed):
    first, second = (
        json.loads(groundsill("draw", "show", one, "--json").out)["request"] for one in ("1", "2")
    )
    april = [one for one in first["backup"] if one["happened"] <= "2026-04-06"]
    assert f"takes ${sum(Decimal(one['amount']) for one in april):,} of receipts" in PAGE
    (quarry,) = (one for one in second["payees"] if one["name"] == "Ridge Road Quarry")
    assert (quarry["proof"], quarry["amount"]) == ([], "5731.52")


def test_the_balance_is_worked_on_the_page(printed):
    """What comes in, less cost at completion, interest, fees and contingency, is what is over."""
    shown = json.loads(
        groundsill("draw", "balance", "--as-of", "2026-06-14", "--contingency", "5", "--json").out
    )
    lines = {one["name"]: Decimal(one["P50"]) for one in shown["lines"]}
    for name in ("Loan not drawn yet", "Cost to complete", "Owed to the owner beyond the equity"):
        assert f"= ${lines[name]:,}" in PAGE
    assert f"= ${lines['Contingency that must be left']:,}" in PAGE
    assert f"= ${Decimal(shown['surplus']['P50']):,}." in PAGE


def test_the_credit_is_worked_on_the_page(printed):
    shown = json.loads(
        groundsill("credit", "--in-service", "2026-11-02", "--as-of", "2026-06-14", "--json").out
    )
    assert f"= ${Decimal(shown['credit']):,}, in five equal years" in PAGE
    assert f"it is 80 %, ${Decimal(shown['recapture'][1]['amount']):,}" in PAGE
    assert f"= ${Decimal(shown['windows'][-1]['over']):,} over" in PAGE


def test_each_rule_is_worked_on_the_page():
    """What the table says of line 3, of money and of interest is what the rules give."""
    state = LineState("3", "Demolition", 44_987_69, 0, 36_966_15, Decimal("75.47"))
    lines = {basis: draw_line(state, RetainageTerms(), basis) for basis in BASES}
    assert [lines[one].done_cents for one in BASES] == [36_966_15, 33_952_21, 33_952_21]
    five = Decimal("0.05")
    held = [
        retainage_held(RetainageTerms(effect=effect, reduced_fraction=after), 44_987_69, 33_952_21)
        for effect, after in (
            ("", Decimal(0)),
            (STOP, Decimal(0)),
            (NEW_WORK, five),
            (EVERYTHING, five),
        )
    ]
    assert held == [3_395_22, 2_249_38, 2_822_30, 1_697_61]
    at_half = [
        RetainageTerms(effect=EVERYTHING, reduced_fraction=five, is_strict=one)
        for one in (True, False)
    ]
    assert [retainage_held(one, 100_000_00, 50_000_00) for one in at_half] == [5_000_00, 2_500_00]
    equity = EquityTerms(51_000_00, 354_000_00)
    assert owner_part(55_158_15, equity, 0) == 51_000_00
    assert owner_part(55_158_15, replace(equity, order=PRO_RATA), 0) == 6_945_84
    assert worked_months(is_added=False) == [18_19, 330_21]
    assert worked_months(is_added=True) == [18_19, 330_35]
    july = [worked_july(one) for one in ("actual/360", "actual/365", "30/360")]
    assert july == [464_84, 458_47, 449_84]
    risen = worked_july("actual/360", RateStep(date(2026, 7, 16), Decimal("0.0925")))
    assert risen == 478_55
    for cents in (*held, 6_945_84, 18_19, 330_21, 330_35, *july, risen):
        assert cents_money(cents) in PAGE


RATE = [RateStep(date(2026, 4, 6), Decimal("0.0875"))]


def worked_months(*, is_added):
    """Interest of May and June 2026 on what the sample's lender funded."""
    funded = [BalanceChange(date(2026, 5, 14), 4_158_15)]
    funded.append(BalanceChange(date(2026, 6, 11), 61_692_63))
    return [
        one.cents for one in monthly_interest(funded, RATE, date(2026, 7, 1), is_added=is_added)
    ]


def worked_july(day_count, *steps):
    """Interest of July on the second draw."""
    first, last = date(2026, 7, 1), date(2026, 8, 1)
    drawn = [BalanceChange(first, 61_692_63)]
    return whole_half_up(accrued_interest(drawn, [*RATE, *steps], first, last, day_count))


def test_a_draw_out_of_order_is_refused_in_the_words_of_the_page(printed):
    assert REFUSED is not None
    groundsill("draw", "submit")
    groundsill("draw", "decide", "3", "--return", "no photographs")
    ran = groundsill(*words_of(REFUSED[1]))
    assert (ran.exit_code, REFUSED[2] in ran.err) == (1, True), ran.err


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("lender: [", "terms.yaml: line 1 is not YAML"),
        ("- a", "terms.yaml: states no terms"),
        (
            "rates: [{since: 2026-04-06, percent: 875}]",
            "terms.yaml rates 1, percent: is too large",
        ),
        ("most_draws: many", "terms.yaml most_draws: is not right"),
        ("lendr: x", "terms.yaml lendr: is not a field; did you mean 'lender'?"),
    ],
)
def test_a_file_of_terms_with_a_fault_says_where(tmp_path, text, sentence):
    path = tmp_path / "terms.yaml"
    path.write_text(text)
    ran = groundsill("draw", "loan", path)
    assert (ran.exit_code, sentence in ran.err) == (1, True), ran.err


def test_a_trace_names_a_code_or_a_draw():
    assert groundsill("trace").exit_code == 2
