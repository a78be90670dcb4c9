"""Assemblies as they are read: stacked whole, in order, with defaults and cautions."""

from decimal import Decimal
from fractions import Fraction

import numpy as np

from estimator.assemblies.needs import crew_lines, line_need, worked_out
from estimator.assemblies.tables import load_tables, unused_resources
from estimator.opening import open_tables
from estimator.quantity.measures import read_measure
from estimator.quantity.units import unit
from tests.factories import MADE, made_tables, with_cells, with_rows, write_folder


def assembly(tables, code):
    return tables.catalogue.assemblies[code]


def test_the_highest_set_that_names_an_assembly_replaces_it_whole(tmp_path):
    own = {
        "assemblies": [
            {"code": "slab-pour", "name": "Slab, ours", "unit": "sf", "quantity": "area",
             "credit": "ask"},
        ],
        "assembly_inputs": [
            {"assembly": "slab-pour", "input": "area", "unit": "sf", "meaning": "m"},
        ],
        "assembly_lines": [
            {"assembly": "slab-pour", "line": "1", "resource": "permit", "formula": "area / area"},
        ],
    }  # fmt: skip
    tables = load_tables(
        [write_folder(tmp_path / "a", MADE, "shipped"), write_folder(tmp_path / "b", own, "own")]
    )
    ours = assembly(tables, "slab-pour")
    assert (ours.name, ours.unit.name, ours.credit, ours.cautions) == (
        "Slab, ours", "sf", "ask", (),
    )  # fmt: skip
    assert [one.name for one in ours.inputs] == ["area"]
    assert [line.resource for line in ours.lines] == ["permit"]
    assert [line.resource for line in assembly(tables, "floor-cut").lines] == [
        "blade", "dumpster", "plank-sold",
    ]  # fmt: skip


def test_tables_are_read_once_while_they_stay_as_they_are(tmp_path):
    folder = write_folder(tmp_path / "a", MADE, "shipped")
    tables = load_tables([folder])
    assert load_tables([folder]) is tables
    renamed = load_tables([write_folder(tmp_path / "a", MADE, "own")])
    assert (renamed.sets, renamed.digest == tables.digest) == (("own",), False)
    (row, *others) = MADE["assemblies"]
    changed = MADE | {"assemblies": [{**row, "name": "Other"}, *others]}
    assert assembly(
        load_tables([write_folder(folder.path, changed, "shipped")]), row["code"]
    ).name == ("Other")


def test_lines_stand_in_the_order_of_their_numbers(tmp_path):
    rows = list(reversed(MADE["assembly_lines"]))
    tables = made_tables(tmp_path, MADE | {"assembly_lines": rows})
    assert [line.resource for line in assembly(tables, "floor-cut").lines] == [
        "blade", "dumpster", "plank-sold",
    ]  # fmt: skip


def test_a_default_may_be_the_density_of_a_material_of_a_higher_set(tmp_path):
    own = {
        "densities": [
            {"material": "stone", "density": "1.5", "unit": "ton/cy", "state": "compacted"}
        ]
    }
    tables = load_tables(
        [write_folder(tmp_path / "a", MADE, "shipped"), write_folder(tmp_path / "b", own, "own")]
    )
    density = assembly(tables, "stone-fill").input_by_name["density"]
    assert density.default == Decimal("1.5")
    assert density.base_default == float(Fraction(3000, 27))


def test_inputs_are_required_defaulted_or_worked_out(tmp_path):
    inputs = assembly(made_tables(tmp_path), "floor-cut").input_by_name
    assert inputs["length"].is_required
    assert not inputs["strip"].is_required
    assert not inputs["strip"].is_derived
    assert inputs["wood"].is_derived
    assert not inputs["wood"].is_required


def test_what_needs_the_quantity_is_worked_out_after_it(tmp_path):
    more = [
        {"input": "late", "unit": "lf", "formula": "quantity * 2"},
        {"input": "later", "unit": "lf", "formula": "late + early"},
        {"input": "early", "unit": "lf", "formula": "length * 3"},
    ]
    inputs = with_rows(
        "assembly_inputs", *({"assembly": "floor-cut", "meaning": "m"} | row for row in more)
    )
    tables = made_tables(
        tmp_path,
        with_cells("assembly_lines", 5, formula="(later + length) / blade_life")
        | {"assembly_inputs": inputs["assembly_inputs"]},
    )
    steps = [name for name, _ in assembly(tables, "floor-cut").steps]
    assert steps == ["wood", "early", "quantity", "late", "later"]


def test_crew_hours_are_the_quantity_over_the_production_rate(tmp_path):
    tables = made_tables(tmp_path)
    given = {
        "length": np.array([60.0, 90.0]), "production_rate": np.asarray(30.0),
        "strip": np.asarray(1.0), "thickness": np.asarray(0.25), "shift": np.asarray(8.0),
    }  # fmt: skip
    values = worked_out(assembly(tables, "floor-cut"), True, given)
    assert values["quantity"].tolist() == [60.0, 90.0]
    assert values["crew_hours"].tolist() == [2.0, 3.0]
    assert values["wood"].tolist() == [15.0, 22.5]
    assert "crew_hours" not in worked_out(assembly(tables, "floor-cut"), False, given)


def test_a_crew_member_by_the_day_needs_hours_over_the_working_day(tmp_path):
    tables = made_tables(tmp_path)
    laborer, loader = crew_lines(tables.crews["gang"], tables.rates)
    values = {"crew_hours": np.array([20.0]), "shift": np.asarray(8.0)}
    assert laborer.formula.text == "crew_hours * 2"
    assert line_need(laborer, values, unit("hr"), 1).need.tolist() == [40.0]
    assert loader.formula.text == "crew_hours * 1 / shift"
    assert line_need(loader, values, unit("day"), 1).need.tolist() == [2.5]
    assert line_need(loader, values, unit("day"), 1).multiple.tolist() == [1.0]
    assert loader.ordered_per == "phase"
    assert loader.is_crew


def test_a_need_is_converted_to_the_unit_of_its_resource(tmp_path):
    concrete = assembly(made_tables(tmp_path), "slab-pour").lines[0]
    need = line_need(concrete, {"quantity": np.array([270.0])}, unit("cy"), 1)
    assert need.need.tolist() == [10.0]
    assert need.with_waste.tolist() == [10.5]
    assert need.multiple.tolist() == [0.5]
    assert need.minimum.tolist() == [3.0]


def test_an_order_multiple_that_is_a_formula_is_converted_too(tmp_path):
    stone = assembly(made_tables(tmp_path), "stone-fill").lines[0]
    values = {
        "quantity": np.array([8000.0]),
        "lost": np.asarray(0.05),
        "load_size": np.asarray(24000.0),
    }
    need = line_need(stone, values, unit("ton"), 1)
    assert (need.need.tolist(), need.multiple.tolist()) == ([4.0], [12.0])


def test_every_caution_of_an_assembly_exists(tmp_path):
    tables = made_tables(tmp_path)
    for assembly in tables.catalogue.assemblies.values():
        assert set(assembly.cautions) <= tables.catalogue.cautions.keys()
    assert tables.catalogue.cautions["heavy-loads"].defer_to == "rigger"


def test_resources_that_nothing_uses_are_known(tmp_path):
    spare = MADE["resources"][3] | {"code": "spare-stone"}
    assert unused_resources(made_tables(tmp_path, with_rows("resources", spare))) == (
        "spare-stone",
    )


def test_every_input_of_a_shipped_assembly_can_be_written_in_its_own_unit():
    inputs = [
        one
        for assembly in open_tables().catalogue.assemblies.values()
        for one in assembly.inputs
        if not one.is_derived
    ]
    written = {one.unit.name: "0.25" if one.unit.name == "fraction" else "" for one in inputs}
    for name, text in written.items():
        measure = read_measure(text or f"3 {name}", unit(name))
        assert measure.in_unit(unit(name)) in (3, Fraction(1, 4))
