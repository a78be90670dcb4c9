"""Assemblies priced once by hand: need, quantity as bought, and dollars of each line.

`envelope_by_hand.csv` has one row a line: what the assembly is given, the working with its numbers,
the quantity that comes of it (raised where it says `whole`), the rate and the amount.
"""

import csv
from itertools import groupby
from pathlib import Path

import pytest

import estimator
from estimator.money import cents_text, fixed_point_text

BY_HAND = list(
    csv.DictReader(
        (Path(__file__).parent / "envelope_by_hand.csv").read_text(encoding="utf-8").splitlines()
    )
)
ASSEMBLIES = [
    (code, list(rows)) for code, rows in groupby(BY_HAND, key=lambda row: row["assembly"])
]


@pytest.fixture(scope="module")
def lines(tmp_path_factory):
    """Lines of an estimate that has each assembly as the only item of a phase."""
    path = tmp_path_factory.mktemp("by-hand") / "scope.yaml"
    path.write_text(
        "project: Harrow Lane Carbarn\non: 2026-03-02\nmarkups: []\nphases:\n"
        + "".join(_phase(place, code, rows) for place, (code, rows) in enumerate(ASSEMBLIES)),
        encoding="utf-8",
    )
    scope, tables, on = estimator.open_scope(path)
    estimate = estimator.price(scope, tables, on)
    return {
        code: [line for line in estimate.cost_lines if line.assembly == code]
        for code, _ in ASSEMBLIES
    }


def _phase(place, code, rows):
    inputs = rows[0]["inputs"].replace("; ", ", ")
    return (
        f'  - code: "{place + 100}"\n    name: {code}\n    items:\n'
        f'      - {{code: "010", name: {code}, assembly: {code}, inputs: {{{inputs}}}}}\n'
    )


@pytest.mark.parametrize(("code", "rows"), ASSEMBLIES, ids=[code for code, _ in ASSEMBLIES])
def test_an_assembly_is_priced_as_by_hand(code, rows, lines):
    assert {
        line.resource: (fixed_point_text(line.ordered, line.decimals), cents_text(line.cents))
        for line in lines[code]
    } == {row["resource"]: (row["quantity"], row["amount"]) for row in rows}
