"""What the books say as of a day: status, forecast and what needs attention, all together."""

from collections import Counter
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.money import money_text
from estimator.rates.machines.rental_rates import RentalRates
from estimator.tracking.books import Books
from estimator.tracking.books_by_day import daily_books
from estimator.tracking.commitments import Commitment
from estimator.tracking.hold_points import HoldPoint
from estimator.tracking.job_track import track
from estimator.tracking.machines_on_rent import OnRent
from estimator.tracking.own_stock import UNUSED, StockMove
from estimator.tracking.planned_dates import PlannedDates
from estimator.tracking.track_json import track_fields
from estimator.tracking.weekly_costs import weeks_of_work
from tests.tracking.rows import LATER, MONDAY, NOW, at, cost, payment, progress, ticket
from tests.tracking.test_status import BUDGET, FILL, FRIDAY, code

STONE = ("20.010", "material")


def told(books, as_of=LATER, since=None):
    return track(books, BUDGET, as_of, NOW, since)


def test_the_forecast_is_incurred_and_the_rest_at_the_unit_costs_of_the_record():
    """112 ton for $4,681.60; 288 are left at $41.80: $12,038.40; together $16,720.00."""
    books = Books(costs=[cost(1, (*STONE, 468_160, 0))], progress=[progress(2, "20.010", "112")])
    job = told(books)
    assert job.forecast_cents(code(job.status, "20.010")) == 1_672_000
    assert "it ends $2,120.00 over its budget" in job.attention[0].sentence


def test_what_does_not_recur_is_left_out_of_the_unit_cost_but_not_of_the_forecast():
    """$1,000 of set-up once, and $30.00 a ton: 1,000 + 400 x 30 = $13,000.00."""
    books = Books(
        costs=[cost(1, (*STONE, 100_000, 0), is_once=True), cost(2, (*STONE, 300_000, 0))],
        progress=[progress(3, "20.010", "100")],
    )
    assert told(books).forecast_cents(code(told(books).status, "20.010")) == 1_300_000


def pile(row, tons, cents, happened=MONDAY):
    """Return a count of stone that is bought and not used yet."""
    return StockMove(
        row, happened, at(happened), "stone", "ton", UNUSED, Decimal(tons), *STONE, cents
    )


def test_stock_that_is_not_used_yet_is_in_no_unit_cost_and_is_used_up_first():
    """120 ton are bought at $30, 100 placed: 300 to come at $30.00 less the pile of $600.00."""
    books = Books(
        costs=[cost(1, (*STONE, 360_000, 0))], progress=[progress(2, "20.010", "100")],
        stock=[pile(3, "20", 60_000)],
    )  # fmt: skip
    job = told(books)
    fill = code(job.status, "20.010")
    assert job.rests["20.010"].cents == 300 * 3_000 - 60_000
    assert job.forecast_cents(fill) == 400 * 3_000
    assert (fill.unused_cents, fill.in_place_cents) == (60_000, 300_000)


def test_the_last_count_holds_and_a_window_sees_what_it_used_up():
    """In June 30 ton are bought and the pile of 20 goes: 50 ton for $1,500.00, as placed."""
    june = date(2026, 6, 1)
    books = Books(
        costs=[cost(1, (*STONE, 360_000, 0)), cost(2, (*STONE, 90_000, 0), happened=june)],
        progress=[progress(3, "20.010", "100"), progress(4, "20.010", "150", happened=june)],
        stock=[pile(5, "20", 60_000), pile(6, "0", 0, happened=june)],
    )
    assert told(books, since=june).rests["20.010"].cents == 250 * 3_000
    (first, second) = weeks_of_work(daily_books(books, june, NOW), june)["20.010"]
    assert (first.cents_by_kind, second.cents_by_kind) == (
        {"material": 300_000},
        {"material": 150_000},
    )


@settings(max_examples=60)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["material", "labor"]), st.integers(1, 700_000), st.booleans()
        ),
        min_size=1, max_size=5,
    ),
    st.integers(1, 400), st.integers(0, 300_000), st.integers(0, 900_000),
)  # fmt: skip
def test_each_sum_of_a_sentence_is_that_of_its_rows(bills, done, unused, ordered):
    """Worked out again in fractions: what recurs and is used, an order at its price, the pile."""
    books = Books(
        costs=[
            cost(row, ("20.010", kind, cents, 0), is_once=once)
            for row, (kind, cents, once) in enumerate(bills, 1)
        ],
        progress=[progress(11, "20.010", str(done))],
        stock=[pile(12, "1", unused)] if unused else [],
        commitments=[
            Commitment(13, MONDAY, at(MONDAY), "PO-1", "Quarry", "20.010", "material", ordered)
        ] if ordered else [],
    )  # fmt: skip
    incurred, recurs = sum(cents for _, cents, _ in bills), Counter()
    for kind, cents, once in bills:
        recurs[kind] += 0 if once else cents
    lies = min(unused, recurs["material"])
    left = {
        kind: half_up(Fraction((own - lies * (kind == "material")) * (400 - done), done))
        for kind, own in recurs.items()
    }
    left["material"] = ordered or max(left.get("material", 0) - lies, 0)
    over = incurred + sum(left.values()) - FILL.cents
    said = [one for one in told(books).attention if one.code == "20.010"]
    assert [one.cents for one in said] == [over] * (over > 0)
    for one in said:
        assert f"{money_text(Decimal(over) / 100)} over its budget" in one.sentence
        if " in place at " in one.sentence:
            each = Decimal(half_up(Fraction(incurred - lies, done))) / 100
            assert f"in place at {money_text(each)} against $36.50" in one.sentence


def half_up(number):
    return int(number + Fraction(1, 2))


def test_a_cost_before_the_first_measurement_does_not_put_the_forecast_over_the_budget():
    """Nobody has said how much is in place; $500.00 of the budget is spent."""
    job = told(Books(costs=[cost(1, (*STONE, 50_000, 0))]))
    fill = code(job.status, "20.010")
    assert job.forecast_cents(fill) == fill.budget_cents
    assert job.attention == ()


def test_a_window_looks_at_its_own_weeks_only():
    """The first 100 ton took $50 a ton, the next 50 $30: 250 ton are left at $30."""
    june = date(2026, 6, 1)
    books = Books(
        costs=[cost(1, (*STONE, 500_000, 0)), cost(2, (*STONE, 150_000, 0), happened=june)],
        progress=[progress(3, "20.010", "100"), progress(4, "20.010", "150", happened=june)],
    )
    job = told(books, since=june)
    assert job.rests["20.010"].cents == 750_000
    assert told(books).rests["20.010"].cents == round(250 * 650_000 / 150)


def test_an_accrual_counts_in_the_unit_cost_like_a_bill():
    books = Books(tickets=[ticket(1, 300_000)], progress=[progress(2, "20.010", "100")])
    assert told(books).rests["20.010"].cents == 900_000


def test_what_is_ordered_is_forecast_at_its_price():
    order = Commitment(1, MONDAY, at(MONDAY), "7", "Quarry", *STONE, 1_200_000)
    books = Books(
        commitments=[order],
        costs=[cost(2, (*STONE, 400_000, 0), order="7")],
        progress=[progress(3, "20.010", "100")],
    )
    assert told(books).rests["20.010"].cents == 800_000
    assert code(told(books).status, "20.010").committed_cents == 800_000


def test_a_code_that_nobody_can_forecast_comes_to_its_budget():
    job = told(Books())
    fees = code(job.status, "90.010")
    assert (fees.code in job.rests, job.forecast_cents(fees)) == (False, 200_000)


def test_planned_dates_of_a_phase_hold_for_its_codes_unless_a_code_has_its_own():
    plans = [
        PlannedDates(1, MONDAY, at(MONDAY), "40", MONDAY, FRIDAY),
        PlannedDates(2, MONDAY, at(MONDAY), "20.010", MONDAY, MONDAY),
    ]
    job = told(Books(plans=plans), as_of=MONDAY)
    assert code(job.status, "40.010").planned_cents == 96_000
    assert code(job.status, "20.010").planned_cents == 1_460_000


def test_the_inspectors_figure_stands_beside_ours_and_in_no_other():
    seen = progress(2, "20.010", "90", is_inspector=True)
    ours = told(Books(progress=[progress(1, "20.010", "112")]))
    both = told(Books(progress=[progress(1, "20.010", "112"), seen]))
    assert both.inspected["20.010"].quantity == Decimal(90)
    assert (both.status, both.rests, dict(ours.inspected)) == (ours.status, ours.rests, {})
    assert code(both.status, "20.010").quantity == Decimal(112)


def test_an_order_that_nobody_logged_is_reported():
    job = told(Books(costs=[cost(1, (*STONE, 10_000, 700), order="PO-9")]))
    assert [one.sentence for one in job.attention if "PO-9" in one.sentence] == [
        "order PO-9: $100.00 is billed on it, and no such order is logged; 'groundsill log order'"
    ]


def test_holds_and_call_offs_stand_after_the_money():
    hold = HoldPoint(1, MONDAY, at(MONDAY), "20.010", "density of lift 1", "95 %", "engineer")
    rates = RentalRates(day=Decimal(295), week=Decimal(1040))
    lift = OnRent(2, MONDAY, at(MONDAY), "lift", "Yard", "40.010", rates)
    job = told(Books(holds=[hold], rents=[lift]), as_of=date(2026, 5, 7))
    assert [one.sentence for one in job.attention] == [
        "20.010: density of lift 1 is open; it needs 95 %, and the engineer decides",
        "call the lift off by Sunday 2026-05-10; from the next day the rent is $1,335.00, not "
        "$1,040.00",
    ]


def test_the_same_day_and_time_say_the_same_after_any_later_rows():
    books = Books(costs=[cost(1, (*STONE, 468_160, 0))], progress=[progress(2, "20.010", "112")])
    as_of, known_on = MONDAY, at(MONDAY, 23)
    before = track(books, BUDGET, as_of, known_on)
    later = known_on + timedelta(hours=1)
    more = Books(
        costs=[*books.costs, cost(3, (*STONE, 5, 0), entered=later)],
        payments=[payment(4, 1, 100, entered=later)],
        progress=[*books.progress, progress(5, "20.010", "200", entered=later)],
    )
    assert track(more, BUDGET, as_of, known_on) == before


def test_work_in_place_without_any_bill_is_forecast_at_its_budget():
    """112 of 400 ton are in place and nothing was billed: it ends at its budget, not at nothing."""
    job = told(Books(progress=[progress(1, "20.010", "112")]))
    fill = code(job.status, "20.010")
    assert job.forecast_cents(fill) == 1_460_000
    assert set(job.rests["20.010"].basis_by_kind.values()) == {"budgeted"}


def test_a_kind_that_has_cost_nothing_yet_is_named():
    """Stone is billed and labor is not: the forecast goes by stone alone, and says so."""
    books = Books(costs=[cost(1, (*STONE, 468_160, 0))], progress=[progress(2, "20.010", "112")])
    assert code(told(books).status, "20.010").kinds_without_cost == ("labor",)


def test_a_kind_that_the_forecast_leaves_out_is_named_until_the_work_is_done():
    """Labor is ordered at its price, so it is in the forecast; once all is placed, nothing is."""
    costs = [cost(1, (*STONE, 468_160, 0))]
    part = Books(costs=costs, progress=[progress(2, "20.010", "112")])
    done = Books(costs=costs, progress=[progress(2, "20.010", "400")])
    order = Commitment(3, MONDAY, at(MONDAY), "8", "Crew", "20.010", "labor", 300_000)
    left_out = [
        told(books).left_out_kinds(code(told(books).status, "20.010"))
        for books in (part, done, Books(costs, commitments=[order], progress=part.progress))
    ]
    assert left_out == [("labor",), (), ()]


def test_what_is_paid_on_a_monday_belongs_to_the_week_that_it_begins():
    """30 ton by Friday for $900.00, 20 ton by the next for the $600.00 of the Monday between."""
    friday, monday = MONDAY + timedelta(4), MONDAY + timedelta(7)
    bills = [cost(1, (*STONE, 90_000, 0)), cost(2, (*STONE, 60_000, 0), happened=monday)]
    rows = [progress(3, "20.010", "30", happened=friday),
            progress(4, "20.010", "50", happened=friday + timedelta(7))]  # fmt: skip
    weeks = weeks_of_work(daily_books(Books(costs=bills, progress=rows), LATER, NOW), LATER)
    assert [(one.quantity, one.cents_by_kind["material"]) for one in weeks["20.010"]] == [
        (30.0, 90_000), (20.0, 60_000),
    ]  # fmt: skip


def test_a_running_rent_costs_its_week_day_by_day():
    """$295.00 a day: three days by Wednesday, when 40 of 240 sf are measured."""
    lift = OnRent(2, MONDAY, at(MONDAY), "lift", "Yard", "40.010", RentalRates(day=Decimal(295)))
    wednesday = MONDAY + timedelta(2)
    books = Books(rents=[lift], progress=[progress(3, "40.010", "40", happened=wednesday)])
    (week,) = weeks_of_work(daily_books(books, wednesday, NOW), wednesday)["40.010"]
    assert (week.cents_by_kind, week.quantity) == ({"equipment": 88_500}, 40.0)


def test_a_window_begins_on_its_first_day():
    assert told(Books(), since=FRIDAY).since == FRIDAY
    assert told(Books()).since is None


def test_a_report_as_json_has_each_figure_as_text():
    """112 of 400 ton for $4,681.60: 28.0 %, a cost index of 4,088.00 / 4,681.60 = 0.873."""
    books = Books(costs=[cost(1, (*STONE, 468_160, 0))], progress=[progress(2, "20.010", "112")])
    fields = track_fields(told(books))
    (fill,) = [one for one in fields["codes"] if one["code"] == "20.010"]
    assert [fill[name] for name in (
        "baseline", "changes", "budget", "in_place", "expected", "percent", "incurred", "open",
        "forecast",
    )] == [
        "14600.00", "0.00", "14600.00", "112", "400", "28.0", "4681.60", "4681.60", "16720.00",
    ]  # fmt: skip


def test_what_is_measured_again_costs_the_budgeted_price_of_a_unit_until_a_bill_comes():
    """448 ton in place of 400 at $36.50: $16,352.00, of which nothing has come."""
    books = Books(progress=[progress(1, "20.010", "112", expected=Decimal(448))])
    job = told(books)
    assert job.rests["20.010"].cents == 1_635_200
    assert job.forecast_cents(code(job.status, "20.010")) == 1_635_200


def test_the_first_day_of_a_window_is_in_it():
    bills = [cost(1, (*STONE, 90_000, 0)), cost(2, (*STONE, 60_000, 0), happened=FRIDAY)]
    rows = [progress(3, "20.010", "30"), progress(4, "20.010", "50", happened=FRIDAY)]
    books = daily_books(Books(costs=bills, progress=rows), LATER, NOW)
    (week,) = weeks_of_work(books, LATER, FRIDAY)["20.010"]
    assert (week.quantity, week.cents_by_kind) == (20.0, {"material": 60_000})
