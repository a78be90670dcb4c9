"""The pace of crews beside public man-hours, worked by hand."""

from decimal import Decimal

import pytest

from estimator.assemblies.public_production import crews_beside_public
from estimator.errors import TablesFaulty
from estimator.opening import open_tables
from estimator.rates.public.public_wages import public_folder

TABLES = open_tables(None)


def by_code():
    return {one.assembly: one for one in crews_beside_public(TABLES, public_folder())}


def test_new_joists_take_twice_the_hours_of_the_field_manual():
    """25 man-hours for 1,000 bf are 0.075 a foot of 3 x 12 in; three hands at 20 ft are 0.15."""
    joists = by_code()["joists-new"]
    assert (joists.man_hours, joists.public_man_hours) == (Decimal("0.1500"), Decimal("0.0750"))
    assert joists.ratio == 2
    assert joists.source.endswith("(second-hand)")


def test_block_counts_the_mason_alone_as_the_chart_does():
    """160 hours of the skilled hand for 1,000 sf; one mason at 6.25 sf an hour."""
    assert by_code()["block-laid-again"].ratio == 1


def test_work_of_another_kind_says_in_what_it_differs():
    assert all(one.note for one in by_code().values())


def test_hours_for_another_unit_than_the_pace_are_a_fault(tmp_path):
    text = (public_folder() / "production.csv").read_text(encoding="utf-8")
    (tmp_path / "production.csv").write_text(text.replace(",bf,", ",lf,"), encoding="utf-8")
    with pytest.raises(TablesFaulty, match="unit 'lf' is not that of bf/hr"):
        crews_beside_public(TABLES, tmp_path)
