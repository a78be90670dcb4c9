"""The workbook of a comparison: another program agrees, and no text becomes a formula."""

from io import BytesIO

import pytest
from openpyxl import load_workbook

from estimator.production.placed_so_far import observed_pace
from estimator.studies.comparison.changing_course import changed_course
from estimator.studies.comparison.findings import Variation, findings_of
from estimator.workbook.comparison_workbook import comparison_bytes, write_comparison
from tests.scope.methods.choices import BY_HAND, DIG, pit_choice, sample_choice
from tests.workbook.spreadsheet import all_recalculated

CURVE = (Variation("truck turnaround", "45 min", "2 hr"),)
MAP = (Variation("truck turnaround"), Variation("day worth"))


def rows_with(rows, first_words):
    return next(row for row in rows if len(row) > 1 and row[1] == first_words)


@pytest.fixture(scope="module")
def recalculated_sheets(tmp_path_factory):
    folder = tmp_path_factory.mktemp("methods")
    books = {}
    for item, variations in (("30.020", CURVE), ("20.010", ())):
        comparison = sample_choice(item)
        path = folder / f"{item}.xlsx"
        write_comparison(comparison, findings_of(comparison, variations), path)
        books[item] = path, {}
    path = books["30.020"][0]
    books["a free day"] = path, {("Methods", address_of(path, 310)): 0.0}
    return all_recalculated(books, folder)


def address_of(path, value):
    rows = load_workbook(path)["Methods"].iter_rows()
    return next(cell.coordinate for row in rows for cell in row if cell.value == value)


def test_what_the_dates_make_of_the_methods_stands_below_their_costs(recalculated_sheets):
    cells = [str(cell) for row in recalculated_sheets["30.020"]["Methods"] for cell in row]
    (words,) = [cell for cell in cells if "by 2026-05-29" in cell]
    assert "By these dates, with rents and prices as the estimate has them" in words
    assert "lowering it in by telehandler $17,421.61, $805.35 less" in words


@pytest.mark.parametrize("item", ["30.020", "20.010"])
def test_another_program_comes_to_the_same_cents(recalculated_sheets, item):
    comparison = sample_choice(item)
    rows = recalculated_sheets[item]["Methods"]
    ranks = sorted(one.in_all for one in comparison.results)
    for one in comparison.results:
        row = rows_with(rows, one.method.name)
        shown = [row[6], row[7], row[8]]
        expected = [float(one.day_cost), float(one.in_all), float(one.unit_cost)]
        assert shown == pytest.approx(expected, abs=1e-9)
        assert row[9] == 1 + ranks.index(one.in_all)


def test_the_parts_of_saving_add_up_in_another_program(recalculated_sheets):
    save, scrap = sample_choice("20.010").results
    row = rows_with(recalculated_sheets["20.010"]["Methods"], "Total with time")
    expected = [float(save.in_all), float(scrap.in_all), float(scrap.in_all - save.in_all)]
    assert list(row[2:5]) == pytest.approx(expected, abs=1e-9)


def test_another_worth_of_a_day_changes_what_is_shown(recalculated_sheets):
    for one in sample_choice("30.020").results:
        row = rows_with(recalculated_sheets["a free day"]["Methods"], one.method.name)
        assert row[7] == pytest.approx(float(one.in_all - one.day_cost), abs=1e-9)


def test_the_words_of_the_sheets_cover_the_range_and_name_what_they_depend_on():
    comparison = sample_choice("30.020")
    book = load_workbook(BytesIO(comparison_bytes(comparison, findings_of(comparison, CURVE))))
    texts = {sheet: [cell.value for row in book[sheet].iter_rows() for cell in row if cell.value]
             for sheet in ("Methods", "Curve")}  # fmt: skip
    assert "the truck's round trip stays between 45 min and 1 hr 48.8 min" in texts["Methods"]
    assert "Lowering it in by telehandler is cheapest" in texts["Methods"]
    assert any("The sentences are for a day worth $310.00." in str(one) for one in texts["Methods"])
    assert (
        "While the truck's round trip stays between 1 hr 48.9 min and 2 hr, lowering it in by "
        "telehandler is cheapest." in texts["Curve"]
    )
    for sheet in texts:
        assert "Priced at every 0.1 min; as written: 1 hr 35 min." in texts[sheet]


def test_the_sheets_are_the_table_the_curve_and_the_inputs():
    comparison = sample_choice("30.020")
    book = load_workbook(BytesIO(comparison_bytes(comparison, findings_of(comparison, CURVE))))
    assert book.sheetnames == ["Methods", "Curve", "Inputs"]
    assert len(book["Curve"]._charts) == 1
    series = book["Curve"]._charts[0].series[0]
    first = series.xVal.numRef.f.partition("$A$")[2].partition(":")[0]
    assert book["Curve"][f"A{first}"].value == 45
    assert book["Curve"][f"A{int(first) - 1}"].value == "truck turnaround [min]"


def test_a_map_takes_the_place_of_the_curve():
    comparison = sample_choice("30.020")
    book = load_workbook(BytesIO(comparison_bytes(comparison, findings_of(comparison, MAP))))
    assert book.sheetnames == ["Methods", "Map", "Inputs"]
    numbers = {cell.value for row in book["Map"].iter_rows(min_row=5, min_col=2) for cell in row}
    assert numbers == {1, 3}


def test_every_input_shows_where_it_comes_from():
    comparison = sample_choice("20.010")
    book = load_workbook(BytesIO(comparison_bytes(comparison, findings_of(comparison))))
    rows = {row[0]: row for row in book["Inputs"].iter_rows(values_only=True) if row[0]}
    assert rows["recovery"][1:4] == (0.7, "fraction", "70 %")
    assert rows["salvaged-plank"][1:3] == (3.4, "$/bf")
    assert "invented salvage yard" in rows["salvaged-plank"][5]


def test_the_way_on_has_its_table():
    comparison = sample_choice("30.020")
    course = changed_course(comparison, 1, observed_pace([38.0, 46.0, 42.0, 50.0]))
    book = load_workbook(BytesIO(comparison_bytes(comparison, findings_of(comparison, (), course))))
    texts = [cell.value for row in book["Methods"].iter_rows() for cell in row if cell.value]
    assert "From here on: 115.09 tons left" in texts


def test_the_same_comparison_gives_the_same_bytes():
    comparison = sample_choice("30.020")
    found = findings_of(comparison, CURVE)
    assert comparison_bytes(comparison, found) == comparison_bytes(comparison, found)


def test_no_name_or_risk_becomes_a_formula():
    named = [
        {**DIG, "name": "=1+1", "risks": ["=HYPERLINK(1)", "+1"]},
        {**BY_HAND, "name": "@SUM(A1)"},
    ]
    comparison = pit_choice(*named)
    book = load_workbook(BytesIO(comparison_bytes(comparison, findings_of(comparison))))
    cells = [cell for row in book["Methods"].iter_rows() for cell in row]
    risky = [
        cell for cell in cells if isinstance(cell.value, str) and cell.value[:1] in ("=", "+", "@")
    ]
    formulas = [cell for cell in risky if cell.data_type == "f"]
    assert all(cell.value.startswith(("=ROUND(", "=1+(")) for cell in formulas)
    assert {"=1+1", "=HYPERLINK(1)", "@SUM(A1)"} <= {
        cell.value for cell in risky if cell.data_type == "s"
    }
