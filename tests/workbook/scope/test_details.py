"""Whatever a scope may hold has its place in a workbook, and comes back as it was."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import Faults, ScopeFaulty, WorkbookRefused
from estimator.scope.located import Listing, Located, Section, Text, without_places
from estimator.scope.scope_yaml import read_yaml
from estimator.workbook.reading.workbook_rows import Cell, Sheet, SheetRow
from estimator.workbook.scope.details import detail_rows, read_details
from estimator.workbook.scope.scope_reader import read_scope_workbook
from estimator.workbook.scope.scope_template import write_scope
from tests.workbook.estimates import sample_tables
from tests.workbook.filled import filled

SAMPLE = Path("estimator/sample/harrow-lane-carbarn.yaml")


def sheet_of(rows: list[tuple[str, ...]]) -> Sheet:
    """Return the sheet of details with these rows."""
    sheet = Sheet("Details", "x.xlsx Details")
    for number, texts in enumerate([("of", "key", "value"), *rows], start=1):
        cells = {
            column: Cell(text, "text", sheet.where, number, column)
            for column, text in enumerate(texts, start=1)
            if text
        }
        sheet.rows.append(SheetRow(number, cells, f"{sheet.where} row {number}"))
    return sheet


def read(rows: list[tuple[str, ...]]) -> tuple[dict[str, Section], list[str]]:
    faults = Faults()
    details = read_details(sheet_of(rows), faults, [])
    return details, [str(one) for one in faults.entries]


texts = st.from_regex(r"[a-z0-9 ;%/.]{0,9}[a-z]", fullmatch=True).map(
    lambda text: Text(" ".join(text.split()), "")
)
keys = st.from_regex(r"[a-z][a-z_ -]{0,8}[a-z]", fullmatch=True)
located = st.recursive(
    texts,
    lambda inner: st.one_of(
        st.lists(inner, min_size=1, max_size=4).map(lambda parts: Listing(tuple(parts), "")),
        st.lists(texts, max_size=3).map(lambda parts: Listing(tuple(parts), "")),
        st.dictionaries(keys, inner, min_size=1, max_size=3).map(lambda one: Section(one, "")),
    ),
    max_leaves=12,
)


def nested(written: Located) -> int:
    parts: list[Located] = []
    if isinstance(written, Listing):
        parts = list(written.parts)
    elif isinstance(written, Section):
        parts = list(written.entries.values())
    return 1 + max(map(nested, parts), default=0)


@given(st.dictionaries(keys, located, min_size=1, max_size=4))
def test_everything_that_can_be_nested_comes_back(entries: dict[str, Located]) -> None:
    written = Section(entries, "")
    if nested(written) > 10:
        return
    details, faults = read(list(detail_rows("20.010", written, ())))
    assert faults == []
    assert without_places(details["20.010"]) == without_places(written)


def test_the_sample_says_the_same_from_a_workbook(tmp_path: Path) -> None:
    written = read_yaml(SAMPLE.read_bytes(), SAMPLE.name)
    path = tmp_path / "carbarn.xlsx"
    write_scope(written, sample_tables(), path)
    assert without_places(read_scope_workbook(path.read_bytes(), "x.xlsx")) == without_places(
        written
    )


def test_a_path_leads_to_a_value_in_its_cell() -> None:
    details, faults = read(
        [
            ("", "risk / quantity []", "90 %; 115 %"),
            ("30", "after []", "none"),
            ("30.020", "methods / 2 / name", "by saw"),
            ("30.020", "methods/1/name", "by hand"),
        ]
    )
    assert faults == []
    assert {of: without_places(one) for of, one in details.items()} == {
        "": {"risk": {"quantity": ["90 %", "115 %"]}},
        "30": {"after": []},
        "30.020": {"methods": [{"name": "by hand"}, {"name": "by saw"}]},
    }
    methods = details["30.020"].entries["methods"]
    assert isinstance(methods, Listing)
    assert methods.parts[0] == Section(
        {"name": Text("by hand", "x.xlsx Details C5")}, "x.xlsx Details C5"
    )


def test_every_faulty_row_is_named() -> None:
    rows = [
        ("20", "", "lost"), ("20", "after", ""), ("20", "after", "10"), ("20", "after", "20"),
        ("20", "after / 1", "10"), ("20", "risk / / pace", "90 %"),
        ("20", "/".join("abcdefghijklmn"), "deep"),
    ]  # fmt: skip
    remedy = "each value has a key of its own"
    assert read(rows)[1] == [
        "x.xlsx Details row 2: has no key; fill it in, or remove the row",
        "x.xlsx Details row 3: has no value; fill it in, or remove the row",
        f"x.xlsx Details row 5: the key 'after' does not fit; {remedy}",
        f"x.xlsx Details row 6: the key 'after / 1' does not fit; {remedy}",
        f"x.xlsx Details row 7: the key 'risk / / pace' does not fit; {remedy}",
        f"x.xlsx Details row 8: the key 'a/b/c/d/e/f/g/h/i/j/k/l/m/n' does not fit; {remedy}",
    ]


def test_details_of_what_is_not_there_or_stands_elsewhere_are_named() -> None:
    def add(workbook):  # type: ignore[no-untyped-def]
        sheet = workbook.create_sheet("Details")
        for row in (
            ["Of", "Key", "Value"],
            ["20.011", "risk / pace []", "80 %; 120 %"],
            ["20.010", "name", "Another"],
        ):
            sheet.append(row)

    with pytest.raises(ScopeFaulty) as faulty:
        read_scope_workbook(filled(change=add), "barn.xlsx")
    assert [str(one) for one in faulty.value.faults] == [
        "barn.xlsx Details C3: 'name' is on another sheet already; remove one of them",
        "barn.xlsx Details C2: there is no phase or item '20.011'; did you mean '20.010'?",
    ]


@pytest.mark.parametrize("key", ["a/b", "a[]", "3", " a"])
def test_a_key_that_is_no_step_of_a_path_is_refused(key: str) -> None:
    with pytest.raises(WorkbookRefused, match="cannot stand in a workbook"):
        list(detail_rows("", Section({key: Text("x", "")}, ""), ()))
