"""Labor rates from public wages, worked by hand from the figures that ship."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from estimator.errors import RateMissing
from estimator.opening import open_tables
from estimator.rates.public.base_rates import StatedInsurance, base_rates
from estimator.rates.public.public_wages import STATES, public_folder, public_wages, wage_of

TABLES = open_tables(None)


def by_code(year=2026, state=None, insurance=None):
    made = base_rates(TABLES.rates, public_folder(), year, state, insurance)
    return {one.rate.code: one for one in made}


def test_a_carpenter_of_the_nation_is_45_21_an_hour_from_28_to_69():
    """31.55 x (1 + 0.1178) = 35.2666 in cash, 73,354.53 a year, straight pay and fringe apart.

    Taxes: 6.2 % 4,547.98, 1.45 % 1,063.64, 42.00 and 189.00; 3.89 per 100: 2,853.49; plans
    5.7610 x 2,080 = 11,982.88. In all 94,033.52 over 2,080 hr.
    """
    carpenter = by_code()["carpenter"]
    assert carpenter.wage.mean == Decimal("31.55")
    assert carpenter.rate.rate == Decimal("45.21")
    assert (carpenter.rate.low, carpenter.rate.high) == (Decimal("27.88"), Decimal("68.76"))
    assert carpenter.rate.set_on == date(2026, 1, 1)


def test_the_rate_over_the_wage_is_what_the_survey_of_employers_has():
    """Total compensation 43.56 over wages 30.39 is 1.433.

    BLS Employer Costs for Employee Compensation, June 2022, private construction, as quoted.
    """
    ratios = [one.rate.rate / one.wage.mean for one in by_code().values()]
    assert all(abs(ratio - Decimal("1.433")) < Decimal("0.005") for ratio in ratios)


def test_a_state_without_wages_takes_the_ratio_of_its_carpenters_and_says_so():
    """Laborers 25.02 x 0.934 = 23.37."""
    wage = wage_of(public_wages(), "laborer", "OH", 2026)
    assert wage.mean == Decimal("23.37")
    assert "x 0.934: BLS OEWS May 2022: mean wage of carpenters" in wage.source


def test_a_state_of_which_nothing_is_known_has_the_national_wage_and_says_so():
    wage = wage_of(public_wages(), "laborer", "VT", 2026)
    assert wage.mean == Decimal("25.02")
    assert wage.source.endswith("none of VT is known")


def test_a_states_wage_of_an_earlier_year_is_moved_by_the_nations():
    """Texas, May 2024: 23.71 for carpenters; the nation's 31.55 / 30.79 is 1.0247: 24.30."""
    wage = wage_of(public_wages(), "carpenter", "TX", 2026)
    assert wage.mean == Decimal("24.30")
    assert "x 1.0247, as the nation's from 2024-05 to 2025-05" in wage.source
    assert wage_of(public_wages(), "carpenter", "TX", 2024).mean == Decimal("23.71")


def test_where_a_state_has_no_percentiles_the_spread_is_the_nations():
    wage = wage_of(public_wages(), "carpenter", "WA", 2026)
    nation = wage_of(public_wages(), "carpenter", None, 2026)
    assert wage.source.endswith("spread as in the nation")
    assert wage.low / wage.mean == pytest.approx(nation.low / nation.mean, abs=Decimal("0.001"))


def test_stated_insurance_takes_the_place_of_the_usual_one():
    """5.11 more per 100 of 35.2665 in cash is 1.80 an hour."""
    dearer = by_code(insurance=StatedInsurance("9.00 $"))["carpenter"]
    assert dearer.rate.rate - by_code()["carpenter"].rate.rate == Decimal("1.80")


def test_the_unemployment_tax_of_a_state_whose_credit_was_cut_is_higher():
    """California 2025: 1.2 % of 7,000 more, 84 a year: 0.04 an hour."""
    cut, whole = (base_rates(TABLES.rates, public_folder(), 2025, state) for state in ("CA", None))
    ratio = Decimal("1.197")
    carpenter = next(one for one in cut if one.rate.code == "carpenter")
    nation = next(one for one in whole if one.rate.code == "carpenter")
    assert carpenter.rate.rate - nation.rate.rate * ratio == pytest.approx(
        Decimal("0.00"), abs=Decimal("0.05")
    )
    assert "federal unemployment 1.8 %" in carpenter.rate.note


@pytest.mark.parametrize("state", STATES)
def test_each_state_has_a_rate_for_each_hired_trade_within_its_range(state):
    made = by_code(state=state)
    assert made.keys() == by_code().keys()
    assert all(one.rate.low <= one.rate.rate <= one.rate.high for one in made.values())


def test_a_row_far_off_the_public_figure_says_why():
    off = {one.before.code: one.before.note for one in by_code().values() if one.is_far_off}
    assert off.keys() == {
        "concrete-finisher",
        "equipment-operator",
        "mason",
        "rigger",
        "torch-cutter",
    }
    assert all("above the public wage" in note for note in off.values())


def test_owner_labor_is_no_hired_trade():
    assert "owner-labor" not in by_code()


@pytest.mark.parametrize(
    ("year", "state", "sentence"),
    [
        (2023, None, "no taxes are known for 2023; use 2024 to 2026"),
        (2026, "XX", "'XX' is not a state; write its two letters, such as OH"),
        (1900, None, "no taxes are known for 1900"),
    ],
)
def test_what_is_not_known_is_said(year, state, sentence):
    with pytest.raises(RateMissing, match=sentence):
        base_rates(TABLES.rates, public_folder(), year, state)


def test_a_trade_that_no_survey_has_is_said_with_the_nearest():
    with pytest.raises(RateMissing, match=r"'carpentr'.*carpenter"):
        wage_of(public_wages(), "carpentr", None, 2026)


def test_a_survey_later_than_the_year_does_not_count():
    only_later = replace(
        public_wages(), wages=tuple(one for one in public_wages().wages if one.year > 2024)
    )
    with pytest.raises(RateMissing, match="no survey is as early as 2024; the first is of 2025"):
        wage_of(only_later, "carpenter", None, 2024)
