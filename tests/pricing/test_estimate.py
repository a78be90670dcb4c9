"""An estimate of four items, worked by hand, and what must hold for every estimate."""

from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from estimator.assemblies.tables import load_tables
from estimator.errors import ScopeFaulty
from estimator.money import dollars
from estimator.pricing import summaries
from estimator.scheduling.dated_estimate import price
from tests.factories import (
    MADE,
    SPRING,
    item,
    made_tables,
    scope_of,
    with_cells,
    with_rows,
    write_folder,
)
from tests.scopes import phases

FOUR_ITEMS = {
    "20": [
        item("010", "stone-fill", length="62 ft 6 in", width="4'-2\"", depth=["2 ft", "6 ft 3 in"]),
        item("020", "floor-cut", length="100 ft"),
    ],
    "30": [
        item("010", "slab-pour", area="1,900 sq ft"),
        item("020", "floor-cut", length="130 ft"),
    ],
}


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"), MADE)


@pytest.fixture(scope="module")
def four(tables):
    return price(scope_of(tables, FOUR_ITEMS), tables, SPRING)


def test_a_line_that_is_not_there_is_refused_with_the_lines_of_that_item(four):
    with pytest.raises(ScopeFaulty) as refusal:
        four.explain("20.010/9")
    assert str(refusal.value) == "item 20.010 has no line 9; its lines are 1 to 3"


def cents_of(estimate):
    lines = estimate.lines
    return list(zip(lines["item"], lines["resource"], lines["cents"].tolist(), strict=True))


def test_each_line_comes_to_the_cents_of_a_pocket_calculator(four):
    # 62.5 ft x 4 1/6 ft x 4.125 ft = 39.786 cy; x 1.35 = 53.711 ton, with 5 % lost 56.396
    # 1900 sf x 4 in = 23.457 cy, with 5 % waste 24.630; 100 ft at 30 ft/hr = 3.33 hr
    assert cents_of(four) == [
        ("20.010", "laborer", 22_368),  # 6.71 hr x 33.335 = 223.67785
        ("20.010", "loader", 31_000),  # 0.42 day, a whole one is rented
        ("20.010", "stone", 144_030),  # five loads of 12 ton x 24.005
        ("20.020", "owner-hand", 7_160),  # 3.33 hr x 21.50 = 71.595, a tie
        ("20.020", "blade", 4_855),
        ("20.020", "dumpster", 27_500),
        ("20.020", "plank-sold", 20_708),  # 165 bf x 1.255 = 207.075, a tie away from zero
        ("30.010", "concrete", 352_813),  # 25 cy x 141.125 = 3528.125, a tie
        ("30.010", "permit", 8_500),
        ("30.020", "owner-hand", 9_310),
        ("30.020", "blade", 9_710),
        ("30.020", "dumpster", 27_500),
        ("30.020", "plank-sold", 26_920),  # 214.5 bf x 1.255 = 269.1975
    ]


def test_net_waste_and_left_over_are_shown_and_add_up_to_the_order(four):
    lines = four.lines.set_index(["item", "resource"])
    columns = ["net", "waste", "ordered", "left_over"]
    assert lines.loc[("20.010", "stone"), columns].tolist() == [53.71, 2.69, 60.0, 3.6]
    assert lines.loc[("20.010", "loader"), columns].tolist() == [0.42, 0.0, 1.0, 0.58]
    assert lines.loc[("30.010", "concrete"), columns].tolist() == [23.46, 1.17, 25.0, 0.37]


def test_each_line_says_its_rate_and_the_row_it_stands_in(four):
    stone = four.lines.iloc[2]
    assert (stone["rate"], stone["unit"], stone["kind"], stone["name"]) == (
        Decimal("24.005"), "ton", "material", "Stone",
    )  # fmt: skip
    assert (stone["source"], stone["rate_row"]) == ("invented", "made resources.csv row 5")
    assert four.lines["line"].tolist() == [1, 2, 3, 1, 2, 3, 4, 1, 2, 1, 2, 3, 4]
    assert set(four.lines.loc[~four.lines["paid"], "resource"]) == {"owner-hand", "plank-sold"}


def test_items_show_what_is_finished_who_does_it_and_what_it_costs(four):
    items = four.items.set_index("item")
    assert items["quantity"].to_dict() == {
        "20.010": 53.71, "20.020": 100.0, "30.010": 23.46, "30.020": 130.0,
    }  # fmt: skip
    assert items["crew"].tolist() == ["gang", "solo", "", "solo"]
    assert items["cash_cents"].tolist() == [197_398, 32_355, 361_313, 37_210]
    assert items["own_cents"].tolist() == [0, 7_160, 0, 9_310]
    assert items["sales_cents"].tolist() == [0, 20_708, 0, 26_920]
    assert items["crew_hours"].round(6).tolist() == [3.356934, 3.333333, 0.0, 4.333333]


def test_totals_keep_unpaid_work_out_of_cash(four):
    assert str(four.direct_cost) == "6282.76"
    assert str(four.own_value) == "164.70"
    assert str(four.cash_cost) == "8357.17"
    assert str(four.full_cost) == "8521.87"


def test_a_sale_of_salvage_reduces_no_cost_and_no_markup(four, tmp_path):
    assert str(four.salvage_sales) == "476.28"  # 207.08 and 269.20
    dearer = made_tables(tmp_path, with_cells("resources", 9, rate="99"))
    other = price(scope_of(dearer, FOUR_ITEMS), dearer, SPRING)
    assert str(other.salvage_sales) == "37570.50"  # 165.0 bf and 214.5 bf at $99
    assert (other.direct_cost, other.cash_cost, other.full_cost) == (
        four.direct_cost, four.cash_cost, four.full_cost,
    )  # fmt: skip


def test_markups_are_taken_in_order_each_on_what_it_names(four):
    assert [(one.markup.code, one.base_cents, one.amount_cents) for one in four.markups] == [
        ("tax", 542_408, 39_325),  # 7.25 % of stone, concrete, blades and the loader
        ("overhead", 628_276, 62_828),
        ("bond", 0, 50_000),
        ("profit", 691_104, 55_288),  # 8 % of all cost and of the overhead
    ]


def test_summaries_are_the_same_cents_in_other_groups(four):
    assert {k: str(v) for k, v in summaries.cash_by_phase(four).items()} == {
        "20": "2297.53", "30": "3985.23",
    }  # fmt: skip
    assert {k: str(v) for k, v in summaries.own_by_phase(four).items()} == {
        "20": "71.60", "30": "93.10",
    }  # fmt: skip
    assert [(k, str(v)) for k, v in summaries.cash_by_kind(four).items()] == [
        ("material", "4968.43"), ("disposal", "550.00"), ("equipment", "310.00"),
        ("labor", "223.68"), ("consumable", "145.65"), ("fee", "85.00"),
    ]  # fmt: skip
    assert summaries.cash_by_element(four) == {"no element": Decimal("6282.76")}
    assert summaries.cash_by_credit(four) == {
        "yes": Decimal("6282.76"), "no": Decimal("0.00"), "ask": Decimal("0.00"),
    }  # fmt: skip
    assert summaries.labor_hours(four) == {"Laborer": Decimal("6.71"), "Owner": Decimal("7.66")}
    assert summaries.machine_days(four) == {"Loader": Decimal("1.00")}
    assert summaries.machine_hours(four) == {}
    assert summaries.planning_quantities(four) == {
        "tons of material": Decimal("60.00"), "cubic yards of material": Decimal("25.00"),
        "loads hauled": Decimal("2.00"), "blades": Decimal("3.00"),
    }  # fmt: skip


def test_cautions_stand_beside_the_items_they_belong_to(four):
    assert [(note.caution.code, note.items) for note in four.cautions] == [
        ("heavy-loads", ("20.010", "30.010")),
        ("wet-concrete", ("30.010",)),
    ]


def test_a_phase_buys_whole_blades_together_and_shares_what_is_left(tables):
    cuts = [item(code, "floor-cut", length="64 ft") for code in ("010", "020", "030")]
    lines = price(scope_of(tables, {"20": cuts}), tables, SPRING).lines
    blades = lines[lines["resource"] == "blade"]
    assert blades["net"].tolist() == [0.53, 0.53, 0.53]
    assert blades["ordered"].tolist() == [0.67, 0.67, 0.66]
    assert blades["cents"].tolist() == [3_253, 3_253, 3_204]


def test_another_crew_does_the_same_work_at_its_own_cost(tables):
    by_owner = item("010", "stone-fill", length="20 ft", width="9 ft", depth="2 ft") | {
        "crew": "solo"
    }
    estimate = price(scope_of(tables, {"20": [by_owner]}), tables, SPRING)
    assert estimate.lines["resource"].tolist() == ["owner-hand", "stone"]
    assert str(estimate.own_value) == "24.30"  # 18 ton at 16 ton/hr, 1.13 hr x 21.50


def test_a_longer_working_day_needs_fewer_machine_days(tables):
    fill = item("010", "stone-fill", length="100 ft", width="54 ft", depth="2 ft")
    for shift, days in (("8 hr/day", 4.22), ("10 hr/day", 3.38)):
        lines = price(scope_of(tables, {"20": [fill]}, shift=shift), tables, SPRING).lines
        assert lines.loc[1, ["resource", "net", "ordered"]].tolist() == [
            "loader", days, 5.0 if days > 4 else 4.0,
        ]  # fmt: skip


def test_a_scope_may_choose_its_markups(tables):
    estimate = price(scope_of(tables, FOUR_ITEMS, markups=["profit", "tax"]), tables, SPRING)
    assert [(one.markup.code, one.base_cents, one.amount_cents) for one in estimate.markups] == [
        ("tax", 542_408, 39_325),
        ("profit", 628_276, 50_262),
    ]
    bare = price(scope_of(tables, FOUR_ITEMS, markups=[]), tables, SPRING)
    assert bare.markups == ()
    assert bare.cash_cost == bare.direct_cost


def test_work_that_is_all_unpaid_bears_no_percentage(tables, tmp_path):
    changed = made_tables(tmp_path, with_cells("resources", 7, paid="no"))
    cut = item("010", "floor-cut", length="90 ft", recovery="1")
    estimate = price(scope_of(changed, {"20": [cut]}, markups=["overhead"]), changed, SPRING)
    paid = estimate.lines[estimate.lines["paid"]]
    assert paid["cents"].sum() == 0
    assert estimate.markups[0].base_cents == 0
    assert str(estimate.salvage_sales) == "372.74"
    assert estimate.own_value == Decimal("64.50") + Decimal("48.55")


slow_is_fine = settings(suppress_health_check=[HealthCheck.too_slow], max_examples=30)


@slow_is_fine
@given(data=st.data())
def test_every_total_is_the_exact_sum_of_its_lines(data, tables):
    drawn = data.draw(phases(list(tables.catalogue.assemblies.values())))
    try:
        estimate = price(scope_of(tables, drawn), tables, SPRING)
    except ScopeFaulty:
        return
    paid = [one.cents for one in estimate.cost_lines if one.is_paid]
    sold = [one.cents for one in estimate.cost_lines if one.kind == "salvage"]
    own = [one.cents for one in estimate.cost_lines if not one.is_paid and one.kind != "salvage"]
    assert estimate.direct_cost == dollars(sum(paid))
    assert estimate.own_value == dollars(sum(own))
    assert estimate.salvage_sales == dollars(sum(sold))
    assert sum(summaries.cash_by_phase(estimate).values()) == estimate.direct_cost
    assert sum(summaries.cash_by_kind(estimate).values()) == estimate.direct_cost
    assert sum(summaries.cash_by_element(estimate).values()) == estimate.direct_cost
    assert sum(summaries.cash_by_credit(estimate).values()) == estimate.direct_cost
    assert sum(summaries.own_by_phase(estimate).values()) == estimate.own_value
    markups = sum(one.amount_cents for one in estimate.markups)
    assert estimate.full_cost == dollars(sum(paid) + sum(own) + markups)


@slow_is_fine
@given(data=st.data())
def test_the_order_of_items_changes_no_line_but_shares_of_a_tie(data, tables):
    drawn = data.draw(phases(list(tables.catalogue.assemblies.values())))
    shuffled = {code: data.draw(st.permutations(items)) for code, items in drawn.items()}
    try:
        one, other = (price(scope_of(tables, each), tables, SPRING) for each in (drawn, shuffled))
    except ScopeFaulty:
        return
    alone = ["item", "line", "resource", "net", "waste", "ordered", "cents"]
    pooled = ["blade", "loader"]

    def single(estimate):
        lines = estimate.lines
        return lines.loc[~lines["resource"].isin(pooled), alone].astype(str)

    assert sorted(single(one).to_numpy().tolist()) == sorted(single(other).to_numpy().tolist())
    for resource in pooled:
        ordered = [
            (estimate.lines["ordered"] * 100).round()[estimate.lines["resource"] == resource].sum()
            for estimate in (one, other)
        ]
        assert ordered[0] == ordered[1]


def test_a_set_laid_over_another_prices_with_its_own_rows(tmp_path):
    own = {"resources": [MADE["resources"][3] | {"rate": "20", "date": "2026-02-01"}]}
    stack = load_tables(
        [write_folder(tmp_path / "a", MADE, "shipped"), write_folder(tmp_path / "b", own, "quotes")]
    )
    lines = price(scope_of(stack, FOUR_ITEMS), stack, SPRING).lines
    assert lines.loc[2, ["rate_row", "cents"]].tolist() == ["quotes resources.csv row 2", 120_000]


def test_later_rates_of_the_same_resource_leave_earlier_estimates_alone(tables, tmp_path):
    later = MADE["resources"][3] | {"rate": "99", "date": "2026-04-02"}
    more = made_tables(tmp_path, with_rows("resources", later))
    before = price(scope_of(more, FOUR_ITEMS), more, SPRING)
    assert cents_of(before) == cents_of(price(scope_of(tables, FOUR_ITEMS), tables, SPRING))
