"""The engine gives the same figures as pricing line by line in exact decimals."""

import ast
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from estimator.assemblies.tables import Tables, load_tables
from estimator.errors import GeometryFaulty, ScopeFaulty
from estimator.rates.folders import shipped_tables
from estimator.scheduling.dated_estimate import price
from tests.factories import SPRING, item, made_tables, scope_of, with_rows
from tests.pricing.decimal_reference import FUNCTIONS, NoQuantity, reference_lines
from tests.scopes import phases, tie_heavy_rates, with_rates

slow_is_fine = settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """The made tables, with something that is bought by whole pieces."""
    by_the_piece = {
        "assembly": "floor-cut", "line": "4", "resource": "permit",
        "formula": "length / blade_life", "order_multiple": "1",
    }  # fmt: skip
    return made_tables(tmp_path_factory.mktemp("made"), with_rows("assembly_lines", by_the_piece))


@pytest.fixture(scope="module")
def shipped():
    """The shipped assemblies without what they recover: own material has tests of its own."""
    tables = load_tables([shipped_tables()])
    assemblies = {
        code: replace(one, recoveries=())
        for code, one in tables.catalogue.assemblies.items()
        if not one.is_on_hand
    }
    return replace(tables, catalogue=replace(tables.catalogue, assemblies=assemblies))


def figures_of_the_engine(scope, tables, on):
    lines = price(scope, tables, on).priced.lines
    codes = [line.resource for _, line in lines.assembly_lines]
    columns = (lines.item, lines.number, lines.kind_of_line, lines.net, lines.waste, lines.ordered,
               lines.decimals, lines.cents)  # fmt: skip
    return [
        (scope.items[i].code, n, codes[k], net, waste, ordered, decimals, cents)
        for i, n, k, net, waste, ordered, decimals, cents in zip(
            *(column.tolist() for column in columns), strict=True
        )
    ]


def figures_of_the_reference(scope, tables, on):
    return [
        (
            one.item, one.number, one.resource, int(one.net.scaleb(one.decimals)),
            int(one.waste.scaleb(one.decimals)), int(one.ordered.scaleb(one.decimals)),
            one.decimals, one.cents,
        )
        for one in reference_lines(scope, tables, on)
    ]  # fmt: skip


def check_same(scope, tables: Tables, on: date) -> None:
    try:
        expected = figures_of_the_reference(scope, tables, on)
    except NoQuantity:
        event("refused by both")
        with pytest.raises((ScopeFaulty, GeometryFaulty)):
            price(scope, tables, on)
        return
    event("priced by both")
    assert figures_of_the_engine(scope, tables, on) == expected


@slow_is_fine
@given(data=st.data())
def test_random_scopes_of_made_assemblies_come_to_the_same_cents(data, made):
    rates = data.draw(st.lists(tie_heavy_rates, min_size=9, max_size=9))
    tables = with_rates(made, rates)
    drawn = data.draw(phases(list(made.catalogue.assemblies.values()), most_items=6))
    shift = data.draw(st.sampled_from(["8 hr/day", "10 hr/day", "7 1/2 hr/day", "20/3 hr/day"]))
    check_same(scope_of(tables, drawn, shift=shift), tables, SPRING)


@slow_is_fine
@given(data=st.data())
def test_random_scopes_of_shipped_assemblies_come_to_the_same_cents(data, shipped):
    drawn = data.draw(phases(list(shipped.catalogue.assemblies.values())))
    check_same(scope_of(shipped, drawn), shipped, SPRING)


@slow_is_fine
@given(data=st.data())
def test_shipped_assemblies_at_rates_full_of_ties_come_to_the_same_cents(data, shipped):
    rates = data.draw(st.lists(tie_heavy_rates, min_size=7, max_size=7))
    tables = with_rates(shipped, rates)
    drawn = data.draw(phases(list(shipped.catalogue.assemblies.values()), most_items=2))
    check_same(scope_of(tables, drawn), tables, SPRING)


def test_the_reference_itself_gives_the_cents_of_a_pocket_calculator(made):
    scope = scope_of(made, {"20": [item("010", "slab-pour", area="1,900 sf")]})
    concrete, permit = reference_lines(scope, made, SPRING)
    assert (concrete.net, concrete.waste, concrete.ordered) == (
        Decimal("23.46"), Decimal("1.17"), Decimal("25.00"),
    )  # fmt: skip
    assert (concrete.cents, permit.cents) == (352_813, 8_500)


def test_the_reference_shares_out_a_blade_as_a_pocket_calculator_would(made):
    cuts = [item(code, "floor-cut", length="64 ft") for code in ("010", "020", "030")]
    blades = [
        one for one in reference_lines(scope_of(made, {"20": cuts}), made, SPRING)
        if one.resource == "blade"
    ]  # fmt: skip
    assert [one.net for one in blades] == [Decimal("0.53")] * 3
    assert [one.ordered for one in blades] == [Decimal("0.67"), Decimal("0.67"), Decimal("0.66")]
    assert [one.cents for one in blades] == [3_253, 3_253, 3_204]


def test_the_reference_knows_every_function_that_a_shipped_formula_calls(shipped):
    formulas = [
        formula
        for one in shipped.catalogue.assemblies.values()
        for formula in (*dict(one.steps).values(), *(line.formula for line in one.lines))
    ]
    called = {
        node.func.id
        for formula in formulas
        for node in ast.walk(formula.tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    }
    assert called - FUNCTIONS.keys() == set()
