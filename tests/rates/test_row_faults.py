"""Each kind of fault a row can have is told with file and row, all of them at once."""

import pytest

from tests.factories import MADE, faults_in, faults_of, with_cells, with_rows, write_folder

KINDS = (
    "use one of 'consumable', 'disposal', 'equipment', 'fee', 'haul', 'interest', 'labor', "
    "'material', 'salvage', 'subcontract'"
)


def test_the_made_tables_have_no_fault(tmp_path):
    assert faults_in(tmp_path, with_rows("cautions")) == []


@pytest.mark.parametrize(
    ("cells", "fault"),
    [
        ({"name": ""}, "name is missing"),
        ({"source": ""}, "source is missing"),
        ({"kind": "iron"}, f"kind 'iron' is not known; {KINDS}"),
        ({"kind": "materials"}, "kind 'materials' is not known; did you mean 'material'?"),
        ({"rate": ""}, "rate is missing"),
        ({"rate": "-24"}, "rate '-24' is negative; enter it without the minus sign"),
        ({"rate": "$24"}, "rate '$24' is not a plain number; write it as 1234.50"),
        ({"rate": "24,50"}, "rate '24,50' is not a plain number; write it as 1234.50"),
        ({"rate": "1.024,50"}, "rate '1.024,50' is not a plain number; write it as 1234.50"),
        ({"rate": "2e3"}, "rate '2e3' is not a plain number; write it as 1234.50"),
        ({"rate": "NaN"}, "rate 'NaN' is not a plain number; write it as 1234.50"),
        ({"rate": "inf"}, "rate 'inf' is not a plain number; write it as 1234.50"),
        ({"rate": "1_000"}, "rate '1_000' is not a plain number; write it as 1234.50"),
        ({"rate": "\u0662\u0664"}, "rate '\u0662\u0664' is not a plain number; "
         "write it as 1234.50"),
        ({"rate": "1" * 13}, "rate '1111111111111' is not a plain number; write it as 1234.50"),
        ({"rate": "=1+1"}, "rate '=1+1' is not a plain number; write it as 1234.50"),
        ({"rate": "24.00005"}, "rate '24.00005' has more than 4 decimals"),
        ({"low": "25"}, "low 25 is above the rate 24.005"),
        ({"high": "24"}, "high 24 is below the rate 24.005"),
        ({"date": ""}, "date is missing"),
        ({"date": "15.01.2026"}, "date '15.01.2026' is not a date; write it as 2026-01-15"),
        ({"date": "2026-02-30"}, "date '2026-02-30' is not a date; write it as 2026-03-02"),
        ({"date": "20260115"}, "date '20260115' is not a date; write it as 2026-03-02"),
        ({"date": "1949-12-31"}, "date '1949-12-31' is out of range; give a day from 1950 to 2199"),
        ({"date": "2200-01-01"}, "date '2200-01-01' is out of range; give a day from 1950 to 2199"),
        ({"valid_until": "soon"}, "valid_until 'soon' is not a date; write it as 2026-03-02"),
        ({"valid_until": "2026-01-14"}, "can never price: it is valid until 2026-01-14, before its "
         "date 2026-01-15; correct one of the two dates"),
        ({"paid": ""}, "paid is missing"),
        ({"paid": "maybe"}, "paid 'maybe' is not known; use one of 'no', 'yes'"),
    ],
)  # fmt: skip
def test_a_faulty_cell_of_a_rate_is_reported(tmp_path, cells, fault):
    assert faults_in(tmp_path, with_cells("resources", 5, **cells)) == [
        f"made resources.csv row 5: {fault}"
    ]


def test_a_rate_may_stand_at_an_end_of_its_range_and_on_the_first_day_there_is(tmp_path):
    cells = {"low": "24.005", "high": "24.005", "date": "1950-01-01"}
    assert faults_in(tmp_path, with_cells("resources", 5, **cells)) == []


def test_a_row_without_a_code_is_reported(tmp_path):
    faults = faults_in(tmp_path, with_cells("cautions", 2, code=""))
    assert "made cautions.csv row 2: code is missing" in faults


@pytest.mark.parametrize("rate", ["1,024.50", "1,024", "24.0050", "24.00500000", "0", "012"])
def test_numbers_may_have_thousands_commas_and_needless_zeros(tmp_path, rate):
    assert faults_in(tmp_path, with_cells("resources", 5, rate=rate)) == []


def test_a_code_is_lower_case_words(tmp_path):
    for code in ("Stone", "crushed stone", "stone_4", "-stone", "stone-", "st\u00f6ne"):
        tables = with_rows("resources", row("resources", code=code))
        assert faults_in(tmp_path, tables) == [
            f"made resources.csv row 11: code '{code}' is not a code; "
            "write lower-case words joined by hyphens"
        ]


def row(stem, **cells):
    return with_rows(stem)[stem][3] | cells


def test_the_same_resource_of_the_same_day_is_a_fault_and_of_another_day_is_none(tmp_path):
    again = row("resources", rate="25")
    later = row("resources", rate="26", date="2026-02-15")
    assert faults_in(tmp_path, with_rows("resources", later, again)) == [
        "made resources.csv row 12: repeats resource 'stone' of 2026-01-15 in row 5; "
        "give it a newer date, or remove one of them"
    ]


def test_one_code_has_one_kind_and_unit_in_all_sets(tmp_path):
    low = write_folder(tmp_path / "a", with_rows("resources"), "shipped")
    high = write_folder(
        tmp_path / "b", {"resources": [row("resources", unit="cy", kind="haul")]}, "quotes"
    )
    assert faults_of(low, high)[0] == (
        "quotes resources.csv row 2: resource 'stone' is haul per cy here, material per ton in "
        "shipped resources.csv row 5; use one kind and unit, or another code"
    )


def test_an_unknown_unit_is_reported_under_its_column(tmp_path):
    assert faults_in(tmp_path, with_rows("resources", row("resources", code="x", unit="tone"))) == [
        "made resources.csv row 11, unit: unknown unit 'tone'; did you mean 'tonne'?"
    ]


@pytest.mark.parametrize(
    ("cells", "faults"),
    [
        ({"material": "Soil"}, ["material 'Soil' is not a code; "
                                "write lower-case words joined by hyphens"]),
        ({"density": "0"}, ["density is zero"]),
        ({"density": "1.23456"}, ["density '1.23456' has more than 4 decimals", "density is zero"]),
        ({"state": "wet"}, ["state 'wet' is not known; "
                            "use one of 'bank', 'compacted', 'in place', 'loose'"]),
        ({"unit": "ton"}, ["unit 'ton' is a weight, not weight per volume; write ton/cy"]),
        ({"date": "x"}, ["date 'x' is not a date; write it as 2026-03-02"]),
        ({"source": ""}, ["source is missing"]),
        ({"material": "stone"}, ["repeats material 'stone' of row 2"]),
    ],
)  # fmt: skip
def test_a_faulty_density_is_reported(tmp_path, cells, faults):
    one = {"material": "soil", "density": "1.2", "unit": "ton/cy", "state": "bank"} | cells
    assert faults_in(tmp_path, with_rows("densities", one)) == [
        f"made densities.csv row 3: {fault}" for fault in faults
    ]


@pytest.mark.parametrize(
    ("cells", "fault"),
    [
        ({"unit": "barrel"}, ", unit: unknown unit 'barrel'; did you mean 'bar'?"),
        ({"decimals": "5"}, ": decimals 5 is more than 4"),
        ({"decimals": "1.5"}, ": decimals '1.5' is not a whole number"),
        ({"decimals": ""}, ": decimals is missing"),
        ({"unit": "tons"}, ": repeats unit 'ton'"),
        ({"source": ""}, ": source is missing"),
    ],
)
def test_a_faulty_precision_is_reported(tmp_path, cells, fault):
    one = {"unit": "cy", "decimals": "2"} | cells
    assert faults_in(tmp_path, with_rows("unit_precision", one)) == [
        f"made unit_precision.csv row 6{fault}"
    ]


@pytest.mark.parametrize(
    ("cells", "fault"),
    [
        ({"code": "heavy-loads"}, "repeats caution 'heavy-loads' of row 2"),
        ({"caution": ""}, "caution is missing"),
        ({"defer_to": ""}, "defer_to is missing"),
        ({"source": ""}, "source is missing"),
    ],
)
def test_a_faulty_caution_is_reported(tmp_path, cells, fault):
    one = {"code": "dust", "caution": "Wear a mask.", "defer_to": "local code"} | cells
    assert faults_in(tmp_path, with_rows("cautions", one)) == [f"made cautions.csv row 5: {fault}"]


@pytest.mark.parametrize(
    ("cells", "fault"),
    [
        ({"code": "tax"}, "repeats markup 'tax' of row 2"),
        ({"name": ""}, "name is missing"),
        ({"order": "1.5"}, "order '1.5' is not a whole number"),
        ({"percent": ""}, "needs exactly one of percent and sum"),
        ({"sum": "10"}, "needs exactly one of percent and sum"),
        ({"on": ""}, "on is missing; name kinds, earlier markups, or all"),
        ({"percent": "101"}, "percent 101 is above 100"),
        ({"on": "materials"}, "on names the unknown 'materials'; did you mean 'material'?"),
        ({"on": "all;profits"}, "on names the unknown 'profits'; did you mean 'profit'?"),
        ({"on": "extra"}, "on names 'extra', which is not earlier in order"),
        ({"order": "4", "on": "profit"}, "on names 'profit', which is not earlier in order"),
        ({"source": ""}, "source is missing"),
    ],
)
def test_a_faulty_markup_is_reported(tmp_path, cells, fault):
    one = {"code": "extra", "name": "Extra", "order": "9", "percent": "5", "on": "all"} | cells
    assert faults_in(tmp_path, with_rows("markups", one)) == [f"made markups.csv row 6: {fault}"]


def test_all_faults_of_all_tables_come_in_one_answer(tmp_path):
    changes = {
        "resources": (5, {"rate": "-1", "date": "x", "source": ""}),
        "densities": (2, {"state": "wet"}),
        "cautions": (3, {"caution": ""}),
        "markups": (2, {"percent": ""}),
        "assembly_lines": (3, {"waste": "area"}),
    }
    tables = MADE | {
        stem: with_cells(stem, number, **cells)[stem] for stem, (number, cells) in changes.items()
    }
    assert faults_in(tmp_path, tables) == [
        "made resources.csv row 5: rate '-1' is negative; enter it without the minus sign",
        "made resources.csv row 5: date 'x' is not a date; write it as 2026-03-02",
        "made resources.csv row 5: source is missing",
        "made densities.csv row 2: state 'wet' is not known; "
        "use one of 'bank', 'compacted', 'in place', 'loose'",
        "made cautions.csv row 3: caution is missing",
        "made assembly_lines.csv row 3: formula 'area' gives an area, "
        "not a count or proportion (waste, a fraction)",
        "made markups.csv row 2: needs exactly one of percent and sum",
    ]
