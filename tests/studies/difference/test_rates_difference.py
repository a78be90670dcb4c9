from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from estimator.errors import TablesFaulty
from estimator.rates.folders import TableFolder, shipped_tables
from estimator.studies.difference.rates_difference import (
    FieldChange,
    RatesDifference,
    RowChange,
    rates_difference,
)
from estimator.studies.difference.rates_difference_json import rates_difference_fields
from tests.factories import MADE, Rows, with_cells, with_rows, write_folder

LATER_STONE = {
    "code": "stone", "name": "Stone", "kind": "material", "unit": "ton", "rate": "25.20",
    "date": "2026-05-01", "paid": "yes",
}  # fmt: skip


def made(path: Path, tables: Mapping[str, Rows] = MADE, name: str = "made") -> TableFolder:
    return write_folder(path / name, tables, name)


def compared(path: Path, tables: Mapping[str, Rows]) -> RatesDifference:
    return rates_difference([made(path)], [made(path, tables, "other")])


def test_a_set_compared_with_itself_has_no_change(tmp_path):
    folder = made(tmp_path)
    diff = rates_difference([folder], [folder])
    assert diff.changes == ()
    assert diff.before.digest == diff.after.digest


def test_the_shipped_set_compared_with_a_copy_laid_over_it_has_no_change(tmp_path):
    shipped = shipped_tables()
    for file in shipped.path.glob("*.csv"):
        (tmp_path / file.name).write_bytes(file.read_bytes())
    assert rates_difference([shipped], [shipped, TableFolder("regional", tmp_path)]).changes == ()


def test_a_changed_rate_tells_old_new_and_by_how_much_it_rose(tmp_path):
    (change,) = compared(tmp_path, with_cells("resources", 4, rate="325.50", low="300")).changes
    assert change.manner == "changed"
    assert (change.file, change.key) == ("resources.csv", ("loader", "2026-01-15"))
    assert change.fields == (FieldChange("rate", "310", "325.50"), FieldChange("low", "", "300"))
    assert (change.old_rate, change.new_rate) == (Decimal(310), Decimal("325.50"))
    assert change.rate_change == Decimal("0.05")


def test_the_same_number_written_otherwise_is_no_change(tmp_path):
    assert compared(tmp_path, with_cells("resources", 4, rate="310.00")).changes == ()


def test_a_newer_row_of_a_resource_is_set_against_what_priced_its_day_before(tmp_path):
    (change,) = compared(
        tmp_path, with_rows("resources", {**LATER_STONE, "rate": "24.485"})
    ).changes
    assert change.manner == "added"
    assert change.key == ("stone", "2026-05-01")
    assert (change.old, change.fields) == (None, ())
    assert (change.old_rate, change.new_rate) == (Decimal("24.005"), Decimal("24.485"))
    assert change.rate_change is not None
    assert round(change.rate_change, 4) == Decimal("0.0200")


def test_a_new_resource_has_no_rate_before(tmp_path):
    gravel = {**LATER_STONE, "code": "gravel", "rate": "20"}
    (change,) = compared(tmp_path, with_rows("resources", gravel)).changes
    assert (change.old_rate, change.new_rate, change.rate_change) == (None, Decimal(20), None)


def test_from_a_rate_of_nothing_there_is_no_percentage(tmp_path):
    free = with_cells("resources", 4, rate="0")
    diff = rates_difference([made(tmp_path, free, "free")], [made(tmp_path)])
    assert [(one.old_rate, one.rate_change) for one in diff.changes] == [(Decimal(0), None)]


def test_a_set_of_quotes_takes_nothing_away_from_the_set_below(tmp_path):
    quotes = write_folder(tmp_path / "quotes", {"resources": [{**LATER_STONE, "rate": "23"}]}, "q")
    (change,) = rates_difference([made(tmp_path)], [made(tmp_path), quotes]).changes
    assert (change.manner, round(change.rate_change, 6)) == ("added", Decimal("-0.041866"))


def test_a_quote_that_is_older_than_a_row_below_hides_that_row(tmp_path):
    early = {**LATER_STONE, "rate": "23", "date": "2026-01-02"}
    quotes = write_folder(tmp_path / "quotes", {"resources": [early]}, "q")
    changes = rates_difference([made(tmp_path)], [made(tmp_path), quotes]).changes
    assert [(one.key[1], one.manner, one.old_rate, one.new_rate) for one in changes] == [
        ("2026-01-02", "added", None, Decimal(23)),
        ("2026-01-15", "removed", Decimal("24.005"), Decimal(23)),
    ]


def test_an_assembly_of_a_higher_set_replaces_its_inputs_and_lines_whole(tmp_path):
    head = [row for row in MADE["assemblies"] if row["code"] == "floor-cut"]
    inputs = [row for row in MADE["assembly_inputs"] if row["assembly"] == "floor-cut"]
    lines = [row for row in MADE["assembly_lines"] if row["assembly"] == "floor-cut"]
    higher = write_folder(
        tmp_path / "higher",
        {"assemblies": head, "assembly_inputs": inputs, "assembly_lines": lines[:2]},
        "higher",
    )
    changes = rates_difference([made(tmp_path)], [made(tmp_path), higher]).changes
    assert len(lines) == 3
    assert [(one.file, one.key, one.manner) for one in changes] == [
        ("assembly_lines.csv", ("floor-cut", row["line"]), "removed") for row in lines[2:]
    ]


@pytest.mark.parametrize("stem", ["markups", "cautions", "densities", "unit_precision", "crews"])
def test_each_table_is_compared(tmp_path, stem):
    (change,) = compared(tmp_path, with_cells(stem, 2, note="changed")).changes
    assert (change.file, change.manner) == (f"{stem}.csv", "changed")
    assert change.fields == (FieldChange("note", MADE[stem][0].get("note", ""), "changed"),)


def test_both_sets_are_checked_before_they_are_compared(tmp_path):
    with pytest.raises(TablesFaulty, match="rate '-1' is negative"):
        compared(tmp_path, with_cells("resources", 4, rate="-1"))


def test_as_fields_it_has_strings_for_money_and_six_decimals_for_fractions(tmp_path):
    diff = compared(tmp_path, with_cells("resources", 4, rate="325.50"))
    fields = rates_difference_fields(diff)
    assert fields["before"] == {"sets": ["made"], "digest": diff.before.digest}
    assert fields["after"]["sets"] == ["other"]
    (change,) = fields["changes"]
    assert change["key"] == ["loader", "2026-01-15"]
    assert change["fields"] == [{"column": "rate", "old": "310", "new": "325.50"}]
    assert (change["old_rate"], change["new_rate"]) == ("310", "325.50")
    assert change["rate_change"] == "0.050000"
    assert change["manner"] == "changed"
    assert "scope" not in fields


def test_as_fields_a_row_that_is_new_or_gone_stands_on_its_side_only(tmp_path):
    diff = rates_difference(
        [made(tmp_path)], [made(tmp_path, with_rows("resources", LATER_STONE), "o")]
    )
    back = rates_difference([made(tmp_path / "b", with_rows("resources", LATER_STONE))],
                      [made(tmp_path / "b", MADE, "o")])  # fmt: skip
    (new,), (gone,) = (rates_difference_fields(one)["changes"] for one in (diff, back))
    assert (new["old"], gone["new"]) == (None, None)
    assert new["new"]["rate"] == gone["old"]["rate"] == "25.20"


def mirrored(change: RowChange) -> RowChange:
    return RowChange(
        change.file, change.key, change.new, change.old, change.new_rate, change.old_rate
    )


edits = st.lists(st.tuples(st.integers(0, 8), st.sampled_from(["dearer", "later"])), max_size=5)


def edited(choices: list[tuple[int, str]]) -> dict[str, Rows]:
    """Return the made tables with rows of resources made dearer or followed by a later one."""
    rows = [dict(row) for row in MADE["resources"]]
    for number, edit in choices:
        if edit == "dearer":
            rows[number]["rate"] = "99.5"
        elif edit == "later":
            day = date(2026, 2, 1 + number).isoformat()
            again = {**rows[number], "date": day, "rate": "77"}
            rows = [row for row in rows if (row["code"], row["date"]) != (again["code"], day)]
            rows.append(again)
    return MADE | {"resources": rows}


@given(edits, edits)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25)
def test_the_way_back_is_the_way_there_mirrored(tmp_path, first, second):
    one, other = made(tmp_path, edited(first), "one"), made(tmp_path, edited(second), "two")
    there, back = rates_difference([one], [other]), rates_difference([other], [one])

    def by_key(change: RowChange) -> tuple[str, tuple[str, ...]]:
        return change.file, change.key

    assert sorted(map(mirrored, there.changes), key=by_key) == sorted(back.changes, key=by_key)
    assert rates_difference([one], [one]).changes == ()
