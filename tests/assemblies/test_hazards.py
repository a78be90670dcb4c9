"""Each assembly shows the caution of each hazard that it has.

`hazards.csv` has one row a hazard: its caution, why work has it, and the assemblies that have it.
"""

import csv
from pathlib import Path

import pytest

from estimator.opening import open_tables

HAZARDS = list(
    csv.DictReader((Path(__file__).parent / "hazards.csv").read_text(encoding="utf-8").splitlines())
)
PAIRS = [(row["caution"], code) for row in HAZARDS for code in row["assemblies"].split()]
CATALOGUE = open_tables().catalogue


@pytest.mark.parametrize("caution", [row["caution"] for row in HAZARDS])
def test_each_assembly_with_a_hazard_shows_its_caution(caution):
    listed = [code for one, code in PAIRS if one == caution]
    silent = [code for code in listed if caution not in CATALOGUE.assemblies[code].cautions]
    assert listed
    assert silent == []


def test_the_table_names_nine_in_ten_assemblies_of_work_on_site():
    """Offices, visits and fees have no hazard of their own."""
    named = {code for _, code in PAIRS}
    assert len(named) >= 50
    assert {"engineer-visits", "permits", "layout-survey"} & named <= {"engineer-visits", "permits"}
