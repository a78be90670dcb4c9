"""Each kind of fault an assembly can have is told with file and row."""

import pytest

from tests.factories import MADE, faults_in, faults_of, with_cells, with_rows, write_folder

NOT_A_CODE = "is not a code; write lower-case words joined by hyphens"


@pytest.mark.parametrize(
    ("cells", "faults"),
    [
        ({"code": "Slab", "quantity": "1 / 1", "unit": "ea"}, [
            f"code 'Slab' {NOT_A_CODE}",
            "assembly 'Slab' has neither crew nor lines; "
            "add what it uses to assembly_lines.csv"]),
        ({"name": ""}, ["name is missing"]),
        ({"credit": "perhaps"}, ["credit 'perhaps' is not known; use one of 'ask', 'no', 'yes'"]),
        ({"source": ""}, ["source is missing"]),
        ({"cautions": "heavy-load"}, ["unknown caution 'heavy-load'; did you mean 'heavy-loads'?"]),
        ({"crew": "gangs"}, ["unknown crew 'gangs'; did you mean 'gang'?",
                             "assembly 'slab-pour' has a crew but no production rate; "
                             "add an input production_rate in cy/hr"]),
        ({"quantity": ""}, ["quantity is missing", "formula '0' gives a count or proportion, "
                            "not a volume (quantity in cy)"]),
        ({"quantity": "area"}, ["formula 'area' gives an area, not a volume (quantity in cy)"]),
        ({"quantity": "area * thicknes"}, ["formula 'area * thicknes' names the unknown input "
                                           "'thicknes'; did you mean 'thickness'?"]),
        ({"quantity": "area * thickness + quantity"}, [
            "formula 'area * thickness + quantity' needs 'quantity', which is worked out after it; "
            "move it below"]),
        ({"crew": "gang"}, ["assembly 'slab-pour' has a crew but no production rate; "
                            "add an input production_rate in cy/hr"]),
    ],
)  # fmt: skip
def test_a_faulty_assembly_is_reported(tmp_path, cells, faults):
    told = faults_in(tmp_path, with_cells("assemblies", 3, **cells))
    of_head = [fault for fault in told if fault.startswith("made assemblies.csv row 3: ")]
    assert [fault.partition(": ")[2] for fault in of_head] == faults


def test_an_unknown_unit_of_an_assembly_is_reported_under_its_column(tmp_path):
    told = faults_in(tmp_path, with_cells("assemblies", 3, unit="perch"))
    assert told[0].startswith("made assemblies.csv row 3, unit: unit 'perch' is ambiguous; ")


def test_a_formula_that_is_not_arithmetic_is_reported_under_its_column(tmp_path):
    told = faults_in(tmp_path, with_cells("assemblies", 3, quantity="__import__('os')"))
    assert told[0].startswith(
        "made assemblies.csv row 3, quantity: formula '__import__('os')' calls the unknown "
        "function '__import__'"
    )


def test_an_assembly_that_stands_twice_in_a_set_is_reported(tmp_path):
    again = MADE["assemblies"][0]
    assert faults_in(tmp_path, with_rows("assemblies", again)) == [
        "made assemblies.csv row 5: repeats assembly 'stone-fill' of row 2"
    ]


def test_an_assembly_that_uses_nothing_is_reported(tmp_path):
    tables = {
        "assemblies": [MADE["assemblies"][1] | {"code": "idle", "quantity": "area", "unit": "sf"}],
        "assembly_inputs": [MADE["assembly_inputs"][7] | {"assembly": "idle"}],
        "cautions": MADE["cautions"],
    }
    assert faults_in(tmp_path, tables) == [
        "made assemblies.csv row 2: assembly 'idle' has neither crew nor lines; "
        "add what it uses to assembly_lines.csv"
    ]


@pytest.mark.parametrize(
    ("cells", "faults"),
    [
        ({"input": "Extra"}, ["input 'Extra' is not a code; "
                              "write lower-case words joined by underscores",
                              "input 'Extra' is used by no formula; use it or remove it"]),
        ({"input": "spare"}, ["input 'spare' is used by no formula; use it or remove it"]),
        ({"input": "production_rate"}, ["input 'production_rate' is used by no formula; "
                                        "use it or remove it"]),
        ({"input": "quantity", "unit": "cy"}, ["input 'quantity' is a reserved name"]),
        ({"input": "shift", "unit": "hr/day"}, ["input 'shift' is a reserved name"]),
        ({"input": "area"}, ["repeats input 'area' of row 9"]),
        ({"input": ""}, ["input is missing", "input '' is used by no formula; "
                         "use it or remove it"]),
        ({"meaning": ""}, ["meaning is missing"]),
        ({"source": ""}, ["source is missing"]),
        ({"least": "3", "most": "2"}, ["least 3 is above most 2"]),
        ({"default": "2", "least": "2", "most": "2"}, []),
        ({"default": "1", "least": "2"}, ["default 1 is below least 2"]),
        ({"default": "3", "most": "2"}, ["default 3 is above most 2"]),
        ({"default": "1", "formula": "area"}, ["input 'slope' has both a default and a formula; "
                                               "keep one of them"]),
        ({"default": "much"}, ["default 'much' is not a plain number; write it as 1234.50"]),
        ({"default": "1.1234567"}, ["default '1.1234567' has more than 6 decimals"]),
        ({"default": "density of stome"}, ["unknown material 'stome'; did you mean 'stone'?"]),
        ({"default": "density of stone"}, ["the density of 'stone' is per ton/cy; "
                                           "use that unit in the row"]),
        ({"unit": "sf", "formula": "area * thickness"}, [
            "formula 'area * thickness' gives a volume, not an area (slope in sf)"]),
        ({"formula": "later * 2"}, ["formula 'later * 2' needs 'later', which is worked out "
                                    "after it; move it below"]),
        ({"formula": "slope * 2"}, ["formula 'slope * 2' needs 'slope', which is worked out "
                                    "after it; move it below"]),
    ],
)  # fmt: skip
def test_a_faulty_input_is_reported(tmp_path, cells, faults):
    plain = {"assembly": "slab-pour", "input": "slope", "unit": "sf", "meaning": "m"}
    later = {"assembly": "slab-pour", "input": "later", "unit": "sf", "meaning": "m"}
    tables = with_rows("assembly_inputs", plain | cells, later | {"formula": "area"})
    uses = {"formula": "quantity * (slope + later) / area"}
    lines = with_rows("assembly_lines", {"assembly": "slab-pour", "line": "3"} | uses)
    lines["assembly_lines"][-1]["resource"] = "concrete"
    told = faults_in(tmp_path, tables | {"assembly_lines": lines["assembly_lines"]})
    of_input = [fault for fault in told if fault.startswith("made assembly_inputs.csv row 20: ")]
    assert [fault.partition(": ")[2] for fault in of_input] == faults


def test_an_unknown_unit_of_an_input_is_reported_once(tmp_path):
    told = faults_in(
        tmp_path, with_cells("assembly_inputs", 5, unit="ton/pail", default="density of stone")
    )
    assert [fault for fault in told if "unit 'pail'" in fault] == [
        "made assembly_inputs.csv row 5, unit: unknown unit 'pail'; docs/units.md lists the units"
    ]


def test_a_production_rate_is_the_finished_unit_per_hour(tmp_path):
    assert faults_in(tmp_path, with_cells("assembly_inputs", 8, unit="cy/hr")) == [
        "made assembly_inputs.csv row 8: production_rate is per cy/hr; write it in ton/hr"
    ]


def test_own_crew_hours_stand_in_for_a_production_rate(tmp_path):
    hours = {"input": "crew_hours", "unit": "hr", "formula": "quantity * 0.1 / pace"}
    tables = with_cells("assembly_inputs", 8, input="pace", unit="ton/hr")
    rows = [*tables["assembly_inputs"], {"assembly": "stone-fill", "meaning": "m"} | hours]
    assert faults_in(tmp_path, tables | {"assembly_inputs": rows}) == []


@pytest.mark.parametrize(
    ("cells", "faults"),
    [
        ({"line": "1"}, ["repeats line '1' of row 3"]),
        ({"line": ""}, ["line is missing"]),
        ({"line": "1.5"}, ["line '1.5' is not a whole number"]),
        ({"resource": ""}, ["resource is missing"]),
        ({"resource": "concret"}, ["unknown resource 'concret'; did you mean 'concrete'?"]),
        ({"formula": ""}, ["formula is missing", "formula '0' gives a count or proportion, "
                           "not a volume (concrete per cy)"]),
        ({"formula": "area"}, ["formula 'area' gives an area, not a volume (concrete per cy)"]),
        ({"formula": "area * depth"}, ["formula 'area * depth' names the unknown input 'depth'; "
                                       "use one of 'area', 'permits', 'quantity', 'shift', "
                                       "'thickness'"]),
        ({"formula": "crew_hours"}, ["formula 'crew_hours' names the unknown input 'crew_hours'; "
                                     "use one of 'area', 'permits', 'quantity', 'shift', "
                                     "'thickness'"]),
        ({"waste": "thickness"}, ["formula 'thickness' gives a length, "
                                  "not a count or proportion (waste, a fraction)"]),
        ({"order_multiple": "area"}, ["formula 'area' gives an area, "
                                      "not a volume (order_multiple in cy)"]),
        ({"order_multiple": "-1"}, ["formula '-1' gives a count or proportion, "
                                    "not a volume (order_multiple in cy)"]),
        ({"order_multiple": "0"}, ["order_multiple 0 is not a positive number with at most "
                                   "2 decimals; unit_precision.csv has the decimals of its unit"]),
        ({"order_multiple": "0.125"}, ["order_multiple 0.125 is not a positive number with at most "
                                       "2 decimals; unit_precision.csv has the decimals of its "
                                       "unit"]),
        ({"minimum": "area"}, ["formula 'area' gives an area, not a volume (minimum in cy)"]),
        ({"ordered_per": "job"}, ["ordered_per 'job' is not known; write item or phase"]),
        ({"ordered_per": "phase"}, ["is ordered per phase, which takes an order multiple and no "
                                    "minimum; clear ordered_per or correct the two"]),
        ({"ordered_per": "phase", "order_multiple": "1", "minimum": "2"}, [
            "is ordered per phase, which takes an order multiple and no minimum; "
            "clear ordered_per or correct the two"]),
        ({"source": ""}, ["source is missing"]),
    ],
)  # fmt: skip
def test_a_faulty_line_is_reported(tmp_path, cells, faults):
    line = {"assembly": "slab-pour", "line": "3", "resource": "concrete", "formula": "quantity"}
    assert faults_in(tmp_path, with_rows("assembly_lines", line | cells)) == [
        f"made assembly_lines.csv row 8: {fault}" for fault in faults
    ]


@pytest.mark.parametrize(
    ("stem", "row", "sentence"),
    [
        ("assembly_lines", {"assembly": "slab-pours", "line": "1", "resource": "stone",
                            "formula": "quantity"},
         "made assembly_lines.csv row 8: can never be used: assembly 'slab-pours' is not in the "
         "assemblies.csv of made; did you mean 'slab-pour'?"),
        ("assembly_inputs", {"assembly": "slab-pours", "input": "x", "unit": "ft", "meaning": "m"},
         "made assembly_inputs.csv row 20: can never be used: assembly 'slab-pours' is not in the "
         "assemblies.csv of made; did you mean 'slab-pour'?"),
    ],
)  # fmt: skip
def test_rows_of_no_assembly_are_reported(tmp_path, stem, row, sentence):
    assert faults_in(tmp_path, with_rows(stem, row)) == [sentence]


def test_a_line_laid_over_a_lower_sets_assembly_is_told_to_repeat_it(tmp_path):
    low = write_folder(tmp_path / "a", MADE, "shipped")
    high = write_folder(tmp_path / "b", {"assembly_lines": [MADE["assembly_lines"][0]]}, "own")
    assert faults_of(low, high) == [
        "own assembly_lines.csv row 2: can never be used: assembly 'stone-fill' is not in the "
        "assemblies.csv of own; repeat the assembly there"
    ]
