"""An item that lists methods is priced by the one it has chosen, as the comparison prices it."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import ScopeFaulty
from estimator.scheduling.dated_estimate import price
from estimator.scope.scope_digest import scope_digest
from estimator.studies.comparison.comparison import compare
from tests.factories import SPRING, scope_of
from tests.scope.methods.choices import BY_HAND, DIG, PIT, PUMP, THROW, pit_scope, sample, shipped

BESIDE = {
    "code": "020",
    "name": "Stone beside it",
    "assembly": "stone-fill-skid-steer",
    "inputs": {"length": "9 ft", "width": "7 ft", "depth": "1 ft"},
}


def feet(least: int, most: int) -> st.SearchStrategy[str]:
    return st.integers(12 * least, 12 * most).map(lambda inches: f"{inches} in")


@st.composite
def systems(draw: st.DrawFn, method: dict[str, object]) -> dict[str, object]:
    """Draw a method with another mobilization, storage, number of carriers, and hour."""
    more = {
        "mobilization": f"${draw(st.integers(0, 4000))}",
        "storage": f"${draw(st.sampled_from([0, 0, 35, 420]))}",
    }
    if "production" in method:
        production = dict(method["production"])
        if "carriers" in production:
            production["carriers"] = str(draw(st.integers(1, 6)))
        production["efficiency"] = f"{draw(st.integers(40, 100))} %"
        more["production"] = production
    return method | more


@st.composite
def jobs(draw: st.DrawFn) -> dict[str, object]:
    """Draw a pit with three ways to fill it, one of them chosen."""
    methods = [draw(systems(one)) for one in draw(st.permutations([DIG, THROW, BY_HAND]))]
    pit = {"length": draw(feet(8, 90)), "width": draw(feet(6, 30)), "depth": draw(feet(1, 9))}
    chosen = draw(st.sampled_from([None, *[one["name"] for one in methods]]))
    item = {
        "code": "010",
        "name": "Stone fill",
        "assembly": "stone-fill-skid-steer",
        "inputs": PIT | pit,
        "methods": methods,
    }
    return item if chosen is None else item | {"method": chosen}


@given(jobs())
def test_the_line_of_an_item_is_that_of_its_method_in_the_comparison_to_the_cent(item):
    """Whatever stands beside it in the phase: cash, unpaid value, hours and days are the same."""
    scope = scope_of(shipped(), {"30": [item, BESIDE]})
    estimate = price(scope, shipped(), SPRING)
    chosen = compare(scope, shipped(), SPRING, "30.010").result(scope.items[0].method.name)
    row = estimate.items.iloc[0]
    assert row["cash_cents"] == 100 * (chosen.cash - chosen.markups)
    assert row["own_cents"] == 100 * chosen.own
    assert row["crew_hours"] == pytest.approx(chosen.hours, rel=1e-12)
    assert estimate.priced.days[0] == pytest.approx(chosen.days, rel=1e-12)


def test_the_first_method_prices_an_item_that_names_none():
    scope = pit_scope(THROW, DIG)
    row = price(scope, shipped(), SPRING).items.iloc[0]
    assert (row["assembly"], row["crew"]) == ("stone-fill-conveyor-hired", "laborers")
    named = scope_of(
        shipped(),
        {
            "30": [
                {
                    "code": "010", "name": "Fill", "assembly": "stone-fill-skid-steer",
                    "inputs": PIT, "methods": [THROW, DIG], "method": "Wheeling it in",
                }
            ]
        },
    )  # fmt: skip
    assert price(named, shipped(), SPRING).items.iloc[0]["assembly"] == "stone-fill-skid-steer"
    assert scope_digest(named) != scope_digest(replace(named, phases=scope.phases))


def test_a_method_in_another_unit_prices_its_item_in_that_unit():
    """40 x 12 x 4 ft / 27 is 71.11 cy of fill, where the stone would be 100.80 ton."""
    row = price(pit_scope(PUMP, DIG), shipped(), SPRING).items.iloc[0]
    assert (round(row["quantity"], 2), row["unit"]) == (71.11, "cy")


def test_mobilization_and_storage_of_the_chosen_method_are_lines_of_the_estimate():
    scope = pit_scope({**THROW, "storage": "$35"}, DIG)
    last = price(scope, shipped(), SPRING).cost_lines[-2:]
    assert [(one.name, one.kind, one.cents) for one in last] == [
        ("Mobilization", "haul", 24_000),
        ("Storage", "fee", 3_500),
    ]


def test_the_working_tells_the_method_the_pace_and_where_the_pace_is_from():
    """60 x 0.7 / 3 min = 14 ton/hr: one machine at one station waits for nobody."""
    estimate = price(pit_scope(DIG, THROW), shipped(), SPRING)
    steps = estimate.explain("30.010/1").steps
    assert steps[0] == "priced by its method 'wheeling it in'"
    assert steps[1] == (
        "pace = 14 ton/hr with waiting lines (14 ton/hr if nothing varied), from the working "
        "system: 1 machine with 0.7 tons a load"
    )
    assert any("quantity / production_rate" in step for step in steps)


def test_without_a_system_the_production_rate_of_the_assembly_holds_and_a_note_says_so():
    estimate = price(pit_scope(BY_HAND, THROW), shipped(), SPRING)
    steps = estimate.explain("30.010/1").steps
    assert steps[1] == (
        "pace = 3.5 ton/hr: no working system, so the production rate of the assembly holds"
    )


def test_the_working_of_a_fixed_sum_names_the_method():
    estimate = price(pit_scope(THROW, DIG), shipped(), SPRING)
    steps = estimate.explain(f"30.010/{len(estimate.cost_lines)}").steps
    assert "1 ls x $240.00 per ls = $240.00" in steps
    assert steps[-1].endswith("method 'throwing it in'")


@pytest.mark.parametrize(
    ("said", "fault"),
    [
        ("throwing", "item 30.010 has no method 'throwing'"),
        ("wheling it in", "did you mean 'wheeling it in'?"),
    ],
)
def test_an_unknown_choice_is_refused_with_the_nearest_name(said, fault):
    item = {
        "code": "010", "name": "Fill", "assembly": "stone-fill-skid-steer", "inputs": PIT,
        "methods": [THROW, DIG], "method": said,
    }  # fmt: skip
    with pytest.raises(ScopeFaulty, match=fault):
        scope_of(shipped(), {"30": [item]})


def test_a_choice_without_methods_is_refused():
    with pytest.raises(ScopeFaulty, match="list it under methods"):
        scope_of(shipped(), {"30": [BESIDE | {"method": "by hand"}]})


def test_the_pit_of_the_sample_is_priced_at_the_pace_of_its_own_system():
    """0.8 min + 130 ft at 3 mph, twice + 2 min + 0.9 ton at 40 ton/hr, 50 of 60 minutes.

    0.8 + 2 x 0.4924 + 2 + 1.35 min = 5.135 min: 60 x 50/60 x 0.9 / 5.135 = 8.764 ton/hr, and
    291.09 ton take 33.22 hr.
    """
    scope, tables = sample()
    estimate = price(scope, tables, scope.on)
    row = estimate.items.set_index("item").loc["30.020"]
    assert row["quantity"] / row["crew_hours"] == pytest.approx(8.764, abs=0.0005)
