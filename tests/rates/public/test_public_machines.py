"""Machines built up from a price beside public hourly figures, worked by hand."""

from decimal import Decimal

import pytest

from estimator.errors import TablesFaulty
from estimator.opening import open_tables
from estimator.rates.public.public_machines import machines_beside_public
from estimator.rates.public.public_wages import public_folder

RATES = open_tables(None).rates


def by_code(folder=None):
    return {one.resource: one for one in machines_beside_public(RATES, folder or public_folder())}


def test_a_skid_steer_of_60_000_is_29_46_an_hour_where_fema_pays_45_23():
    """60,000 x 0.80 / 5,000 = 9.60; 60,000 x 0.68 x 8 % / 1,000 = 3.264.

    74 hp x 0.50 x 0.36 / 7 = 1.902857 gal at 3.95 = 7.516; a quarter of 7.52 is 1.88; repair
    60,000 x 0.60 / 5,000 = 7.20. In all 9.60 + 3.26 + 7.52 + 1.88 + 7.20.
    """
    machine = by_code()["skid-steer"]
    assert (machine.hour.owning, machine.hour.total) == (Decimal("12.86"), Decimal("29.46"))
    assert machine.public_per_hr == Decimal("45.23")
    assert machine.ratio == Decimal("0.65")


def test_a_rented_day_is_an_eighth_an_hour_and_a_rate_by_the_hour_is_itself():
    assert by_code()["skid-steer"].rent_per_hr == Decimal("36.88")  # 295 / 8 = 36.875
    assert by_code()["haul-truck"].rent_per_hr == Decimal("105.00")


def test_every_public_figure_says_who_published_it_and_in_what_it_differs():
    for machine in by_code().values():
        assert "cost code" in machine.source
        assert machine.source.endswith("(second-hand)")
        assert machine.note
        assert machine.terms_source.startswith("common practice, no source: price")


def test_a_fuel_that_is_not_known_is_a_fault_with_its_row(tmp_path):
    text = (public_folder() / "machines.csv").read_text(encoding="utf-8")
    (tmp_path / "machines.csv").write_text(text.replace(",gasoline,", ",steam,"), encoding="utf-8")
    with pytest.raises(TablesFaulty, match="fuel 'steam' is not known; write diesel or gasoline"):
        machines_beside_public(RATES, tmp_path)
