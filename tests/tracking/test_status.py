"""Where the job stands: sums that agree with each other."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import reduce
from operator import add

from hypothesis import given
from hypothesis import strategies as st

from estimator.tracking.budget import BudgetCode
from estimator.tracking.earned_value import Performance
from estimator.tracking.kind_status import KindStatus
from estimator.tracking.progress import in_place
from estimator.tracking.spent import Spent
from estimator.tracking.status import job_status
from tests.tracking.rows import LATER, MONDAY, NOW, at, progress

FRIDAY = date(2026, 5, 8)
FILL = BudgetCode(
    "20.010", "Stone fill", "20", Decimal(400), "ton",
    {"material": 1_100_000, "labor": 360_000}, MONDAY, date(2026, 5, 13),
)  # fmt: skip
WALL = BudgetCode("40.010", "Wall", "40", Decimal(240), "sf", {"labor": 480_000})
DESIGN = BudgetCode("90.010", "Design fees", "90", Decimal(0), "", {"fee": 200_000})
OVERHEAD = BudgetCode("site-overhead", "Site overhead", "", Decimal(0), "", {"markup": 107_000})
CONTINGENCY = BudgetCode("contingency", "Contingency", "", Decimal(0), "", {"markup": 250_000})
BUDGET = {one.code: one for one in (FILL, WALL, DESIGN, OVERHEAD, CONTINGENCY)}


def status(rows=(), spent=None, as_of=LATER, budget=BUDGET):
    stands = in_place(rows, as_of, NOW)
    return job_status(BUDGET, budget, spent or {}, {}, stands, as_of)


def code(job, name):
    return next(one for one in job.codes if one.code == name)


def test_a_measured_code_earns_its_budgeted_unit_price_a_unit():
    """112 of 400 ton of $14,600.00 are $4,088.00."""
    fill = code(status([progress(1, "20.010", "112")]), "20.010")
    assert (fill.earned_cents, fill.how_earned, fill.percent) == (408_800, "measured", Decimal(28))


def test_a_quantity_measured_again_changes_the_percent_never_the_budgeted_unit_price():
    fill = code(status([progress(1, "20.010", "112", expected=Decimal(448))]), "20.010")
    assert (fill.earned_cents, fill.percent, fill.expected) == (408_800, Decimal(25), Decimal(448))


def test_the_expected_quantity_holds_until_it_is_measured_again():
    rows = [
        progress(1, "20.010", "112", expected=Decimal(448)),
        progress(2, "20.010", "224", happened=FRIDAY),
    ]
    assert code(status(rows), "20.010").percent == Decimal(50)


def test_what_nobody_can_measure_is_earned_by_percent():
    fees = code(status([progress(1, "90.010", "40", is_percent=True)]), "90.010")
    assert (fees.earned_cents, fees.unit, fees.how_earned) == (80_000, "%", "percent")


def test_a_markup_is_earned_with_the_work_and_the_contingency_only_when_drawn():
    """4,088 of 21,400 is earned; so is 19.1 % of the overhead of 1,070: 204.40."""
    job = status([progress(1, "20.010", "112")])
    assert code(job, "site-overhead").earned_cents == 20_440
    assert code(job, "contingency").earned_cents == 0
    assert job.whole().performance.budget_cents == 2_140_000 + 107_000


def test_planned_value_follows_the_stated_days():
    """Ten days from Monday; five of them are over on Friday: half of the budget."""
    assert code(status(as_of=FRIDAY), "20.010").planned_cents == 730_000
    assert code(status(as_of=FRIDAY), "40.010").planned_cents == 0


def test_the_inspectors_figure_never_replaces_ours():
    rows = [progress(1, "20.010", "112"), progress(2, "20.010", "90", is_inspector=True)]
    assert code(status(rows), "20.010").quantity == Decimal(112)
    assert in_place(rows, LATER, NOW, by_inspector=True)["20.010"].quantity == Decimal(90)


def test_of_one_day_the_row_that_was_entered_last_counts():
    rows = [progress(1, "20.010", "100"), progress(2, "20.010", "96", reason="one load less")]
    assert code(status(rows), "20.010").quantity == Decimal(96)


def test_a_measurement_that_was_entered_later_was_not_known():
    late = progress(1, "20.010", "112", entered=at(date(2026, 6, 1)))
    assert in_place([late], LATER, at(date(2026, 5, 31))) == {}


def test_a_cost_without_a_budget_stands_on_a_line_of_its_own():
    job = status(spent={("20.077", "haul"): Spent(5_000)})
    lost = code(job, "20.077")
    assert (lost.budget_cents, lost.spent.billed_cents, lost.phase) == (0, 5_000, "20")


AMOUNTS = st.integers(-(10**7), 10**8)
SPENT = st.dictionaries(
    st.tuples(st.sampled_from([*BUDGET, "20.077"]), st.sampled_from(["labor", "material", "fee"])),
    st.builds(Spent, AMOUNTS, AMOUNTS, AMOUNTS),
)


@given(SPENT)
def test_incurred_is_the_same_by_code_by_phase_by_kind_and_in_all(spent):
    job = status(spent=spent)
    whole = sum(one.incurred_cents for one in spent.values())
    assert job.whole().spent.incurred_cents == whole
    assert sum(one.spent.incurred_cents for one in job.codes) == whole
    assert sum(one.spent.incurred_cents for one in job.by_phase()) == whole
    assert sum(one.spent.incurred_cents for one in job.by_kind().values()) == whole


@given(st.dictionaries(st.sampled_from(["20.010", "40.010"]), st.integers(0, 900), max_size=2))
def test_earned_is_never_above_the_budget_for_any_code_or_phase(quantities):
    rows = [progress(i, of, str(q)) for i, (of, q) in enumerate(quantities.items(), 1)]
    job = status(rows)
    assert all(0 <= one.earned_cents <= one.budget_cents for one in job.codes)
    assert all(
        one.performance.earned_cents <= one.performance.budget_cents for one in job.by_phase()
    )


@given(
    SPENT,
    st.dictionaries(st.sampled_from(["20.010", "40.010"]), st.integers(0, 900), max_size=2),
    st.integers(-400_000, 400_000),
)
def test_earned_value_of_the_kinds_adds_up_to_that_of_the_codes_and_of_the_job(
    spent, quantities, more
):
    """Also where a change takes a kind of a code, labor, below zero."""
    rows = [progress(i, of, str(q)) for i, (of, q) in enumerate(quantities.items(), 1)]
    changed = replace(FILL, cents_by_kind=FILL.cents_by_kind | {"labor": more})
    job = status(
        rows, spent | {("contingency", "fee"): Spent(5)}, budget=BUDGET | {FILL.code: changed}
    )
    for one in job.codes:
        assert sum_of(one.performance_by_kind) == one.performance
    assert sum_of(job.performance_by_kind()) == job.whole().performance
    assert list(job.performance_by_kind()) == list(job.by_kind())


def sum_of(performances):
    return reduce(add, performances.values(), Performance(0, 0, 0, 0))


def test_each_kind_has_earned_its_share_of_the_budget():
    """$4,088.00 of $14,600.00 are earned: 28 % of material and of labor, each to the cent."""
    rows = [progress(1, "20.010", "112.01")]
    fill = code(status(rows, {("20.010", "labor"): Spent(150_000)}), "20.010")
    assert fill.earned_cents == 408_837
    own = fill.performance_by_kind
    assert {kind: one.earned_cents for kind, one in own.items()} == {
        "labor": 100_809, "material": 308_028,
    }  # fmt: skip
    assert (own["labor"].cost_variance_cents, str(own["labor"].cost_index)) == (-49_191, "0.672")
    assert str(own["material"].cost_index) == "undefined"


def test_each_kind_has_its_budget_its_changes_and_its_orders_beside_what_was_spent():
    """Labor of the fill, the wall and a change of $50.00; $700.00 of the wall's are ordered."""
    changed = replace(FILL, cents_by_kind={"material": 1_100_000, "labor": 365_000})
    ordered, spent = {("40.010", "labor"): 70_000}, {("20.010", "haul"): Spent(5_000)}
    job = job_status(BUDGET, BUDGET | {FILL.code: changed}, spent, ordered, {}, LATER)
    assert dict(job.by_kind()) == {
        "labor": KindStatus(840_000, 845_000, 70_000),
        "material": KindStatus(1_100_000, 1_100_000),
        "haul": KindStatus(spent=Spent(5_000)),
        "fee": KindStatus(200_000, 200_000),
        "markup": KindStatus(357_000, 357_000),
    }


def test_a_unit_in_place_has_a_cost_beside_the_one_that_it_may_have():
    """112 ton have cost $4,681.60 and may cost $36.50 each."""
    rows, spent = [progress(1, "20.010", "112")], {("20.010", "material"): Spent(468_160)}
    fill = code(status(rows, spent), "20.010")
    assert (fill.cost_per_unit_cents, fill.budget_per_unit_cents) == (4_180, 3_650)
    fees = code(status([progress(1, "90.010", "40", is_percent=True)]), "90.010")
    assert (fees.cost_per_unit_cents, fees.budget_per_unit_cents) == (None, None)


def test_a_phase_is_called_as_the_estimate_calls_it():
    """A code that the estimate lacks knows no name; its phase has that of the others."""
    named = {FILL.code: replace(FILL, phase_name="Pits filled"), OVERHEAD.code: OVERHEAD}
    job = status(spent={("20.077", "haul"): Spent(5_000)}, budget=named)
    assert [(one.code, one.name) for one in job.by_phase()] == [("20", "Pits filled"), ("", "")]


def test_what_approved_changes_added_is_the_budget_less_the_estimate():
    more = replace(FILL, cents_by_kind={"material": 1_100_000, "labor": 400_000})
    assert code(status(budget=BUDGET | {"20.010": more}), "20.010").change_cents == 40_000
