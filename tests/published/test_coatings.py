"""Coatings against an Army manual and the cubic inches of a gallon."""

import pytest

from estimator.quantity.takeoff.coatings import (
    coating_gal,
    edged_coating_gal,
    film_coverage_sf_per_gal,
)
from tests.published.source import published


@published(
    source="US Army FM 5-436, Paving and Surfacing Operations",
    section="para. 6-1, G = L (W + 2) R (1 + H) / 9",
    status="derived",
    note="the formula was read; three miles of 23 ft at 0.3 gal/sy and 5 % are worked out",
)
def test_three_miles_of_prime_coat_are_13860_gallons():
    assert edged_coating_gal(15_840.0, 23.0, 0.3, 0.05) == pytest.approx(13_860.0, rel=1e-12)


@published(
    source="US Army FM 5-436, Paving and Surfacing Operations",
    section="para. 6-1, the edge of one foot each side",
    status="derived",
)
def test_leaving_out_the_edges_orders_eight_percent_too_little():
    bare = edged_coating_gal(15_840.0, 23.0, 0.3, 0.05, edge_ft=0.0)
    assert bare == pytest.approx(12_751.2, rel=1e-12)
    assert 1 - bare / 13_860.0 == pytest.approx(0.08, rel=1e-12)


@published(
    source="NIST Handbook 44, App. C, General Tables of Units of Measurement",
    section="gallon of 231 cu in: 231 / 144 x 1,000 = 1,604.17 sf a gallon at 1 mil",
    status="derived",
    note="times the share that is solid, over the mils of the dry film",
)
@pytest.mark.parametrize(
    ("solids", "mils", "feet"),
    [
        (0.35, 2.0, 280.73), (0.50, 3.0, 267.36), (0.65, 5.0, 208.54),
        (0.80, 4.0, 320.83), (1.0, 10.0, 160.42),
    ],
)  # fmt: skip
def test_a_gallon_covers_what_its_solids_leave_of_231_cubic_inches(solids, mils, feet):
    assert film_coverage_sf_per_gal(mils, solids) == pytest.approx(feet, abs=0.005)


@published(
    source="NIST Handbook 44, App. C, General Tables of Units of Measurement",
    section="gallon of 231 cu in, of which 30 % arrives: 52 % solids, 1.5 mils dry",
    status="derived",
    note="transfer counts what arrives, so that the loss added is 1/0.30 - 1, not 70 %",
)
def test_a_gallon_of_which_thirty_percent_arrives_covers_167_feet():
    coverage = film_coverage_sf_per_gal(1.5, 0.52)
    assert round(coverage * 0.30) == 167
    assert coating_gal(coverage * 0.30, coverage, coats=1 / 0.30) == pytest.approx(1.0)
    assert coating_gal(coverage * 0.30, coverage, loss_fraction=0.70) == pytest.approx(0.51)
