"""rents.csv: which row holds, and what is refused."""

from datetime import date

from estimator.assemblies.tables import load_tables
from estimator.rates.folders import COLUMNS, TableFolder
from tests.factories import MADE, faults_in, made_tables, write_folder

WEEK = {"resource": "loader", "week": "1000", "date": "2026-01-15"}


def test_the_newest_row_that_is_not_later_than_the_day_holds(tmp_path):
    rows = [WEEK, WEEK | {"week": "1100", "date": "2026-03-01"}]
    rents = made_tables(tmp_path, MADE | {"rents": rows}).rents
    prices = [rents.rent_on("loader", date(2026, 2, day)) for day in (1, 28)]
    assert [one.week for one in prices] == [1000, 1000]
    assert rents.rent_on("loader", date(2026, 3, 1)).week == 1100
    assert rents.rent_on("loader", date(2026, 1, 14)) is None
    assert rents.rent_on("stone", date(2026, 3, 1)) is None


def test_what_cannot_be_a_rent_is_refused_with_its_row(tmp_path):
    rows = [
        WEEK | {"resource": "loder"},
        WEEK | {"resource": "stone"},
        WEEK | {"week": ""},
        WEEK | {"week": "1000.005"},
        WEEK | {"date": "2026-02-01", "valid_until": "2026-01-31"},
        WEEK | {"date": "2026-02-01", "brought_by": "stones"},
    ]
    assert faults_in(tmp_path, MADE | {"rents": rows}) == [
        "made rents.csv row 2: resource 'loder' is in no table; did you mean 'loader'?",
        "made rents.csv row 3: resource 'stone' is material per ton; rents are of equipment per "
        "day",
        "made rents.csv row 4: has no price of a week or of four weeks; enter one, or remove the "
        "row",
        "made rents.csv row 5: week '1000.005' has more than 2 decimals",
        "made rents.csv row 5: has no price of a week or of four weeks; enter one, or remove the "
        "row",
        "made rents.csv row 5: repeats the rent of 'loader' of 2026-01-15 in row 4; give it a "
        "newer date, or remove one of them",
        "made rents.csv row 6: can never price: it is valid until 2026-01-31, before its date "
        "2026-02-01; correct one of the two dates",
        "made rents.csv row 7: brought_by 'stones' is in no table; did you mean 'stone'?",
        "made rents.csv row 7: repeats the rent of 'loader' of 2026-02-01 in row 6; give it a "
        "newer date, or remove one of them",
    ]


def test_a_table_from_before_a_column_reads_as_if_it_were_empty(tmp_path):
    """Tables that were stored with an estimate stay readable."""
    columns = [one for one in COLUMNS["rents.csv"] if one != "brought_by"]
    cells = {"source": "invented", "delivery": "90"} | WEEK
    text = "\n".join((",".join(columns), ",".join(cells.get(one, "") for one in columns)))
    sets = write_folder(tmp_path, MADE), TableFolder("kept", texts={"rents.csv": text})
    rent = load_tables(sets).rents.rent_on("loader", date(2026, 2, 1))
    assert (rent.delivery, rent.brought_by) == (90, "")
