"""A machine's week moves with its day: by the same factor, from its own date."""

from datetime import date
from decimal import Decimal

from estimator.rates.adjustment.adjusted_rates import Adjustment
from estimator.rates.adjustment.location import LocationFactor
from estimator.rates.adjustment.moved_rents import adjusted_rents
from estimator.rates.written_folder import rents_text
from tests.factories import MADE, made_tables

RENT = {
    "resource": "loader", "week": "1000", "delivery": "500", "brought_by": "permit",
    "over_hour": "30", "date": "2026-01-15", "valid_until": "2026-12-31", "note": "by the yard",
}  # fmt: skip


def moved(tmp_path, adjustment):
    tables = made_tables(tmp_path, MADE | {"rents": [RENT]})
    return adjusted_rents(tables.rents, tables.rates, adjustment)


def test_all_prices_of_a_rent_move_by_one_factor(tmp_path):
    """Fifteen months at 4 % are 1.050248."""
    rents = moved(tmp_path, Adjustment(date(2027, 4, 15), yearly_change=Decimal("0.04")))
    assert rents_text(rents).splitlines()[1] == (
        "loader,1050.25,,525.12,,permit,8,31.5074,2027-04-15,,"
        '"made rents.csv row 2, all its prices x 1.050248 (4 % a year, 2026-01 to 2027-04); first '
        'from: invented",by the yard'
    )


def test_what_moves_no_machine_moves_no_rent(tmp_path):
    stone = LocationFactor("North", "material", Decimal("1.1"), "invented")
    assert moved(tmp_path, Adjustment(date(2027, 4, 15), location={"material": stone})) == ()
