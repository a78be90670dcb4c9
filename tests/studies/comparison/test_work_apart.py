"""A varied value that changes the work of some methods only is said, not hidden in their costs."""

import pytest
from openpyxl import load_workbook

from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.comparison_json import comparison_fields
from estimator.studies.comparison.findings import Variation, findings_of
from estimator.workbook.comparison_workbook import write_comparison
from tests.factories import SPRING
from tests.scope.methods.choices import DIG, PUMP, THROW, pit_scope, shipped

DENSER = Variation("density", "1.35 ton/cy", "1.62 ton/cy")
REST = ": compare their costs only if that is the same place filled or the same job done"


def found(*methods, vary):
    comparison = compare(pit_scope(*methods), shipped(), SPRING, "30.010")
    return comparison, findings_of(comparison, (vary,))


def test_a_denser_stone_leaves_what_a_pumped_method_stands_for():
    """Of 100.80 tons at 1.35 ton/cy, 1.62 / 1.35 is 120.96; a pumped yard stays 1.4175 tons."""
    _, findings = found(THROW, PUMP, vary=DENSER)
    assert findings.notes == (
        "where density is 1.62 ton/cy, throwing it in does the work of 120.96 tons and pumping "
        f"fill does the work of 100.80 tons{REST}",
    )


def test_a_depth_of_one_method_alone_changes_its_work_alone():
    """The pit is 4 ft deep: 100.80 tons at 2 ft are 50.40, at 8 ft 201.60."""
    _, findings = found(DIG, THROW, vary=Variation("throwing it in: depth", "2 ft", "8 ft"))
    assert ["50.40 tons" in findings.notes[0], "201.60 tons" in findings.notes[1]] == [True, True]
    assert all("100.80 tons" in note for note in findings.notes)


@pytest.mark.parametrize(
    ("vary", "low", "high"),
    [
        ("depth", "2 ft", "8 ft"),
        ("throwing it in: waste", "0 %", "20 %"),
        ("truck turnaround", "40 min", "2 hr"),
    ],
)
def test_what_changes_the_work_of_all_alike_or_of_none_has_nothing_to_say(vary, low, high):
    _, findings = found(DIG, THROW, vary=Variation(vary, low, high))
    assert findings.notes == ()


def test_the_note_stands_in_workbook_and_json(tmp_path):
    comparison, findings = found(THROW, PUMP, vary=DENSER)
    (note,) = comparison_fields(comparison, findings)["notes"]
    write_comparison(comparison, findings, tmp_path / "c.xlsx")
    rows = load_workbook(tmp_path / "c.xlsx")["Methods"].iter_rows(values_only=True)
    assert any(f"W{note[1:]}." == cell for row in rows for cell in row)
