"""Two estimates compared line by line; every number is invented, products worked by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.assemblies.tables import load_tables
from estimator.errors import AmountTooLarge
from estimator.pricing.printed_estimate import printed_estimate
from estimator.scheduling.dated_estimate import price
from estimator.studies.difference.compared_estimate import (
    Compared,
    MarkupSum,
    compared_estimate,
)
from estimator.studies.difference.estimate_difference import CAUSES, estimate_difference
from tests.factories import MADE, SPRING, cost_line, item, scope_of, with_cells, write_folder

STONE = cost_line(
    "20.010", 1, "stone-fill", "stone", "Stone", "material", "ton",
    decimals=2, ordered=100_00, rate=24_0000, cents=2400_00, is_paid=True,
)  # fmt: skip
HELPER = cost_line(
    "20.010", 2, "stone-fill", "helper", "Helper", "labor", "hr",
    decimals=2, ordered=8_00, rate=20_0000, cents=160_00, is_paid=False,
)  # fmt: skip
SCRAP = cost_line(
    "20.020", 1, "take-down", "iron", "Scrap iron", "salvage", "ton",
    decimals=2, ordered=2_00, rate=150_0000, cents=300_00, is_paid=False,
)  # fmt: skip


def difference(before, after):
    return estimate_difference(Compared(tuple(before), ()), Compared(tuple(after), ()))


def only_change(before, after):
    (change,) = difference(before, after).changed_lines
    return change


def test_more_of_a_line_is_counted_at_the_old_rate():
    change = only_change([STONE, HELPER], [STONE._replace(ordered=110_00, cents=2640_00), HELPER])
    assert change.why == ("quantity",)
    assert (change.cents, change.quantity_cents, change.rate_cents) == (240_00, 240_00, 0)


def test_a_dearer_line_is_counted_at_the_new_quantity():
    change = only_change([STONE], [STONE._replace(rate=25_0000, cents=2500_00)])
    assert change.why == ("rate",)
    assert (change.cents, change.quantity_cents, change.rate_cents) == (100_00, 0, 100_00)


def test_more_of_a_dearer_line_is_both_and_the_overlap_counts_as_rate():
    change = only_change([STONE], [STONE._replace(ordered=110_00, rate=25_0000, cents=2750_00)])
    assert change.why == ("quantity", "rate")
    assert (change.cents, change.quantity_cents, change.rate_cents) == (350_00, 240_00, 110_00)


def test_the_middle_of_the_split_is_rounded_half_up_like_any_extension():
    # 0.01 ton at $24.50 is 24.5 cents, which is 25; at $25.50 it is 25.5, which is 26
    old = STONE._replace(ordered=3, rate=24_5000, cents=74)
    change = only_change([old], [STONE._replace(ordered=1, rate=25_5000, cents=26)])
    assert (change.cents, change.quantity_cents, change.rate_cents) == (-48, -49, 1)


def test_dearer_scrap_brings_more_and_lowers_no_cost():
    found = difference([SCRAP], [SCRAP._replace(rate=160_0000, cents=320_00)])
    (change,) = found.changed_lines
    assert (change.why, change.rate_cents, change.cents) == (("rate",), 20_00, 20_00)
    assert set(found.cents_by_cause.values()) == {0}


def test_lines_are_new_or_dropped_where_only_one_estimate_has_them():
    found = difference([STONE, SCRAP], [STONE, HELPER])
    assert [(one.shown.name, one.why, one.cents) for one in found.changed_lines] == [
        ("Helper", ("new",), 160_00),
        ("Scrap iron", ("dropped",), -300_00),
    ]
    assert found.cents_by_cause == {"new": 160_00, "dropped": 0, "quantity": 0, "rate": 0}


def test_another_assembly_drops_all_lines_of_the_old_one():
    flowable = STONE._replace(assembly="flowable-fill")
    assert [one.why for one in difference([STONE], [flowable]).lines] == [("new",), ("dropped",)]


@pytest.mark.parametrize("other", [{"unit": "cy"}, {"kind": "haul"}, {"is_paid": False}])
def test_another_unit_kind_or_payment_makes_another_line(other):
    found = difference([STONE], [STONE._replace(**other)])
    assert [one.why for one in found.lines] == [("new",), ("dropped",)]


def test_lines_of_one_resource_are_matched_in_their_order():
    first, second = STONE, STONE._replace(line=3, ordered=50_00, cents=1200_00)
    moved = second._replace(line=4, ordered=60_00, cents=1440_00)
    assert only_change([first, HELPER, second], [first, HELPER, moved]).cents == 240_00


def test_a_quantity_that_prints_with_more_decimals_has_not_changed():
    assert difference([STONE], [STONE._replace(decimals=3, ordered=100_000)]).changed_lines == ()


def test_items_stand_in_the_order_of_the_later_estimate_and_those_that_went_last():
    went = STONE._replace(item="10.010")
    found = difference([went, STONE], [SCRAP, STONE._replace(line=2), HELPER])
    assert [one.code for one in found.by_item] == ["20.020", "20.010", "10.010"]


def test_what_an_item_lost_stands_below_what_it_has_and_before_the_next_item():
    found = difference([STONE, HELPER, SCRAP], [STONE, SCRAP])
    assert [one.shown.name for one in found.lines] == ["Stone", "Helper", "Scrap iron"]


def test_sums_by_item_phase_and_kind_count_paid_and_own_work_together():
    found = difference([STONE, HELPER], [STONE, HELPER._replace(ordered=9_00, cents=180_00), SCRAP])
    assert [(one.code, one.before, one.after) for one in found.by_phase] == [
        ("20", 2560_00, 2580_00)
    ]
    assert [(one.code, one.cents) for one in found.by_item] == [
        ("20.010", 2000),
        ("20.020", 0),
    ]
    assert [(one.code, one.cents) for one in found.by_kind] == [
        ("material", 0), ("labor", 2000), ("salvage", 0),
    ]  # fmt: skip
    assert found.totals[-1].code == "salvage_sales"
    assert (found.totals[-1].before, found.totals[-1].after) == (0, 300_00)


def test_a_sale_that_reduced_the_cost_when_it_was_stored_still_does_and_is_a_source_now():
    then = SCRAP._replace(cents=-300_00, is_paid=True)
    found = difference([STONE, then], [STONE, SCRAP])
    assert {one.code: (one.before, one.after) for one in found.totals} == {
        "direct_cost": (2100_00, 2400_00), "cash_cost": (2100_00, 2400_00), "own_value": (0, 0),
        "full_cost": (2100_00, 2400_00), "salvage_sales": (0, 300_00),
    }  # fmt: skip
    assert found.cents_by_cause == {"new": 0, "dropped": 300_00, "quantity": 0, "rate": 0}


def test_totals_keep_own_work_out_of_cash_and_markups_out_of_direct_cost():
    before = Compared((STONE, HELPER), (MarkupSum("overhead", "Overhead", 240_00),))
    after = Compared((STONE,), (MarkupSum("surety", "Surety", 50_00),))
    found = estimate_difference(before, after)
    assert [(one.code, one.before, one.after) for one in found.totals] == [
        ("direct_cost", 2400_00, 2400_00),
        ("cash_cost", 2640_00, 2450_00),
        ("own_value", 160_00, 0),
        ("full_cost", 2800_00, 2450_00),
        ("salvage_sales", 0, 0),
    ]
    assert [(one.name, one.before, one.after) for one in found.markups] == [
        ("Surety", 0, 50_00), ("Overhead", 240_00, 0),
    ]  # fmt: skip


def test_two_empty_estimates_have_no_difference():
    assert difference([], []).lines == ()


def test_a_quantity_too_large_for_the_old_rate_is_refused():
    few = STONE._replace(ordered=1, rate=10**12, cents=10**8)
    many = STONE._replace(ordered=10**9, rate=1, cents=100_000)
    with pytest.raises(AmountTooLarge):
        difference([few], [many])


ITEMS = {
    "20": [
        item("010", "stone-fill", length="60 ft", width="3 ft", depth="6 ft"),
        item("020", "slab-pour", area="400 sf", thickness="4 in"),
    ]
}


def test_lines_of_an_estimate_are_its_cost_lines(tmp_path):
    loaded = load_tables([write_folder(tmp_path, MADE)])
    estimate = price(scope_of(loaded, ITEMS), loaded, SPRING)
    compared = compared_estimate(printed_estimate(estimate))
    frame, lines = estimate.lines, compared.lines
    assert [one.cents for one in lines] == frame["cents"].tolist()
    assert [one.resource for one in lines] == frame["resource"].tolist()
    assert [one.item for one in lines] == frame["item"].tolist()
    assert compared.totals["full_cost"] == estimate.full_cost * 100
    assert compared.totals["direct_cost"] == estimate.direct_cost * 100
    assert compared.names["20.020"] == "Work 020"
    assert estimate_difference(compared, compared).changed_lines == ()


def test_a_dearer_stone_changes_its_own_line_alone(tmp_path):
    dearer = with_cells("resources", 5, rate="26.005")
    found = []
    for name, tables in (("before", MADE), ("after", dearer)):
        loaded = load_tables([write_folder(tmp_path / name, tables, name)])
        found.append(
            compared_estimate(printed_estimate(price(scope_of(loaded, ITEMS), loaded, SPRING)))
        )
    (change,) = estimate_difference(*found).changed_lines
    assert (change.shown.resource, change.why) == ("stone", ("rate",))
    assert change.cents == change.rate_cents == change.after.ordered * 200 // 100


@st.composite
def priced_lines(draw):
    """Draw a line whose amount is its order at its rate; paid salvage is one of before."""
    kind = draw(st.sampled_from(["material", "labor", "salvage"]))
    decimals, ordered = draw(st.integers(0, 3)), draw(st.integers(0, 99_999))
    rate = draw(st.one_of(st.integers(0, 500_000), st.sampled_from([50, 150, 333_350])))
    is_paid = draw(st.booleans())
    sign = -1 if kind == "salvage" and is_paid else 1
    # half-up by the definition: a half goes away from zero
    cents = sign * ((2 * ordered * rate + 10 ** (decimals + 2)) // (2 * 10 ** (decimals + 2)))
    return cost_line(
        draw(st.sampled_from(["10.010", "10.020", "20.010"])), 1,
        draw(st.sampled_from(["one", "two"])), draw(st.sampled_from(["a", "b"])), "N", kind, "ton",
        decimals, ordered, rate, cents, is_paid,
    )  # fmt: skip


compared = st.builds(
    Compared,
    st.lists(priced_lines(), max_size=8).map(tuple),
    st.lists(
        st.builds(MarkupSum, st.sampled_from(["a", "b", "c"]), st.just("M"), st.integers(0, 10_000))
    ).map(tuple),
)


@given(compared, compared)
def test_lines_causes_and_sums_add_up_to_the_difference_of_the_totals(before, after):
    found = estimate_difference(before, after)
    totals = {one.code: one.cents for one in found.totals}
    of_lines = sum(one.cents for one in found.lines if not one.is_sale)
    assert totals["salvage_sales"] == sum(one.cents for one in found.lines if one.is_sale)
    assert of_lines == totals["full_cost"] - sum(one.cents for one in found.markups)
    assert all(sum(one.cents_by_cause.values()) == one.cents for one in found.lines)
    assert sum(found.cents_by_cause[cause] for cause in CAUSES) == of_lines
    for sums in (found.by_item, found.by_phase, found.by_kind):
        assert sum(one.cents for one in sums) == of_lines


@given(compared, compared)
def test_an_effect_is_there_only_where_its_cause_is(before, after):
    for one in estimate_difference(before, after).lines:
        assert one.why or one.cents == 0
        assert "quantity" in one.why or one.quantity_cents == 0
        assert "rate" in one.why or one.rate_cents == 0


@given(compared)
def test_an_estimate_has_no_difference_to_itself(one):
    found = estimate_difference(one, one)
    assert found.changed_lines == ()
    assert {total.cents for total in found.totals} == {0}


@given(compared, compared)
def test_swapped_estimates_swap_new_and_dropped_and_negate_the_totals(before, after):
    there, back = estimate_difference(before, after), estimate_difference(after, before)
    assert [one.cents for one in there.totals] == [-one.cents for one in back.totals]
    assert there.cents_by_cause["new"] == -back.cents_by_cause["dropped"]
    assert len(there.changed_lines) == len(back.changed_lines)
