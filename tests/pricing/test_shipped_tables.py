"""The tables that ship: complete, without fault, and each assembly priceable."""

import csv
from datetime import date
from fractions import Fraction
from math import ceil, floor

import pytest

from estimator.assemblies.tables import load_tables, read_tables, unused_resources
from estimator.errors import Faults
from estimator.rates.folders import COLUMNS, shipped_tables
from estimator.scheduling.dated_estimate import price
from tests.factories import SPRING, scope_of

FOLDER = shipped_tables()
TABLES = load_tables([FOLDER])
ASSEMBLIES = sorted(
    (one for one in TABLES.catalogue.assemblies.values() if not one.is_on_hand),
    key=lambda one: one.code,
)


def rows_of(file):
    with (FOLDER.path / file).open(encoding="utf-8", newline="") as content:
        return list(csv.DictReader(content))


def test_the_shipped_tables_have_no_fault():
    faults = Faults()
    read_tables([FOLDER], faults)
    assert faults.entries == []


@pytest.mark.parametrize("file", sorted(COLUMNS))
def test_every_shipped_row_names_its_source(file):
    rows = rows_of(file)
    assert len(rows) >= 4
    assert [row for row in rows if not row["source"].strip()] == []


@pytest.mark.parametrize(
    "file",
    ["resources.csv", "crews.csv", "assemblies.csv", "assembly_lines.csv", "markups.csv"],
)
def test_what_is_invented_says_so_where_the_source_stands(file):
    others = {row["source"] for row in rows_of(file)} - {"illustrative, invented for the demo"}
    assert all(one.startswith("BLS Occupational Employment and Wage Statistics") for one in others)


@pytest.mark.parametrize("file", ["assembly_inputs.csv", "densities.csv", "cautions.csv"])
def test_a_published_source_names_section_or_year(file):
    published = {row["source"] for row in rows_of(file)} - {"illustrative, invented for the demo"}
    unplaced = {one for one in published if not any(c.isdigit() for c in one)}
    assert unplaced <= {
        "California Department of Resources Recycling and Recovery, Weights and Volumes for "
        "Project Estimates (undated page)",
        "New Jersey Solid and Hazardous Waste Management Program, conversion table for recycling "
        "coordinators (undated)",
        "ASTM A615 nominal bar weights",
        "common practice, no source",
        "common practice, no source; EPA guidance on vermiculite insulation",
        "state and local licensing",
        "measured on the job",
        "worked out here",
        "densities.csv, with its source",
        "as it is sold or drawn; change it where yours differs",
        "geometry; measured on the job",
        "your own figure, from a quote or an estimate",
    }


def test_no_source_is_the_page_of_a_trade_association_or_of_a_maker():
    sources = {row["source"] for file in COLUMNS for row in rows_of(file)}
    named = ("BIA", "NRMCA", "Association", "Institute of", "manufacturer", "www", ".com")
    assert [one for one in sources if any(word in one for word in named)] == []


def test_modular_brick_come_to_their_figures_by_arithmetic():
    """A brick with its joint is 8 in by 2 2/3 in, and its head joint 2 1/4 in high."""
    figures = {
        (row["assembly"], row["input"]): row["default"] for row in rows_of("assembly_inputs.csv")
    }
    face = Fraction(144) / (8 * Fraction(8, 3))
    assert face == Fraction(figures["brick-wall-patch", "bricks_per_area"])
    joints = 12 / Fraction(8, 3) + face * Fraction(9, 4) / 12
    assert round(float(joints), 3) == float(figures["repointing", "joint_density"])
    assert 7 + Fraction(5, 8) + Fraction(3, 8) == int(figures["lintel-repair", "brick_length"])


def test_what_is_known_of_a_material_is_not_called_invented():
    assert [row for row in rows_of("densities.csv") if "invented" in row["source"]] == []


def test_a_slab_is_tested_by_its_area_too():
    (tests,) = (
        row
        for row in rows_of("assembly_inputs.csv")
        if (row["assembly"], row["input"]) == ("slab-on-grade", "tests")
    )
    assert tests["source"].endswith("one for each 150 cy, one for each 5,000 sf")


def test_a_part_of_a_block_is_rounded_to_tenths_down_or_up():
    """Of 2.26 sf at 8/9 sf a block 20 % is new, 0.5085, and 80 % own: 2.034, here bought."""
    wall = {"assembly": "block-laid-again", "inputs": {"area": "2.26 sf"}}
    scope = scope_of(TABLES, {"10": [{"code": "010", "name": "Wall", **wall}]})
    blocks = [x for x in price(scope, TABLES, SPRING).cost_lines if x.resource == "block-8"]
    assert [(line.decimals, line.net) for line in blocks] == [(1, 5), (1, 20)]


def test_each_share_of_waste_is_an_input_that_a_scope_may_change():
    bare = [row for row in rows_of("assembly_lines.csv") if row["waste"][:1].isdigit()]
    assert bare == []


def test_every_shipped_rate_has_unit_date_and_a_range_around_it():
    for row in TABLES.rates.rows():
        assert date(2020, 1, 1) <= row.set_on <= date(2026, 12, 31), row.code
        assert row.unit.name
        if row.unit.name != "$":  # a dollar is a dollar
            assert row.low is not None, row.code
            assert row.high is not None, row.code
            assert row.low <= row.rate <= row.high, row.code


def test_every_shipped_resource_can_be_priced_on_the_day_the_tables_were_set():
    priced = [TABLES.rates.rate_on(code, SPRING) for code in TABLES.rates.codes]
    assert [row.code for row in priced if row.rate == 0] == []
    assert len(priced) >= 100


def test_there_are_at_least_thirty_assemblies():
    assert len(ASSEMBLIES) >= 30


def test_no_shipped_resource_lies_idle():
    assert unused_resources(TABLES) == ()


def test_each_required_input_has_limits_that_catch_a_slip():
    inputs = [(of.code, one) for of in ASSEMBLIES for one in of.inputs if not one.is_derived]
    assert [
        (code, one.name)
        for code, one in inputs
        if one.least is None or one.most is None or one.least >= one.most
    ] == []


def test_each_assembly_names_credit_cautions_and_source():
    known = TABLES.catalogue.cautions.keys()
    assert [one.code for one in ASSEMBLIES if one.credit not in ("yes", "no", "ask")] == []
    assert [one.code for one in ASSEMBLIES if not set(one.cautions) <= known] == []
    assert [one.code for one in ASSEMBLIES if not one.source] == []


def test_every_caution_is_used_and_defers_to_somebody():
    used = {code for assembly in ASSEMBLIES for code in assembly.cautions}
    assert used == TABLES.catalogue.cautions.keys()
    assert all(one.defer_to and one.source for one in TABLES.catalogue.cautions.values())


def inside(one, share):
    """Return a measure at a share of the way from least to most."""
    least, most = Fraction(one.least), Fraction(one.most)
    parts = 1 if one.unit.is_count else 1000
    number = Fraction(round((least + (most - least) * share) * parts), parts)
    number = min(
        max(number, Fraction(ceil(least * parts), parts)), Fraction(floor(most * parts), parts)
    )
    if one.unit.name == "fraction":
        return str(number)
    return f"${number}" if one.unit.name == "$" else f"{number} {one.unit.name}"


def priced(share_of):
    """Return an estimate of one item of each assembly, each in a phase of its own."""
    items = {
        str(place): [{"code": "010", "name": "W", "assembly": one.code, "inputs": {
            x.name: inside(x, share_of(one, x)) for x in one.inputs if x.is_required
        }}]
        for place, one in enumerate(ASSEMBLIES, start=100)
    }  # fmt: skip
    return price(scope_of(TABLES, items), TABLES, SPRING)


@pytest.mark.parametrize("share", [Fraction(1, 20), Fraction(1, 5), Fraction(1, 2)])
def test_each_assembly_prices_with_plausible_inputs(share):
    estimate = priced(lambda _, __: share)
    items = estimate.items.set_index("assembly")
    costs = estimate.lines.groupby("assembly")["cents"].sum()
    assert list(items.index) == [one.code for one in ASSEMBLIES]
    assert items.index[items["quantity"] <= 0].tolist() == []
    assert costs.index[costs > 0].tolist() == [one.code for one in ASSEMBLIES]
    assert (estimate.lines["ordered"] >= estimate.lines["net"]).all()
    assert (estimate.lines["waste"] >= 0).all()


def test_more_work_never_costs_less():
    def costs(share):
        lines = priced(
            lambda one, x: share if x.name in one.quantity.names else Fraction(1, 5)
        ).lines
        return lines[lines["kind"] != "salvage"].groupby("assembly")["cents"].sum()

    some, more, most = (costs(Fraction(part, 5)) for part in (1, 2, 3))
    assert some.index[(more < some) | (most < more)].tolist() == []
