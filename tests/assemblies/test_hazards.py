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


def test_the_table_names_every_assembly_of_a_crew_but_the_hanging_of_doors():
    named = {code for _, code in PAIRS}
    crewed = {code for code, one in CATALOGUE.assemblies.items() if one.crew}
    assert crewed - named == {"doors-new"}


def test_a_certified_firm_is_needed_beyond_the_areas_of_minor_repair_not_from_them_on():
    """40 CFR 745.83: six square feet a room, or twenty outside, and less are minor repair."""
    caution = CATALOGUE.cautions["lead-renovation"].caution
    assert "beyond 6 sf a room inside or 20 sf outside" in caution
    assert "wherever a window is replaced or painted parts are torn out" in caution
