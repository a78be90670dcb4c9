"""The library's front door: light, documented, complete, and the sample's main job through it."""

import doctest
import importlib
import re
import shutil
import subprocess
import sys
from datetime import date
from decimal import ROUND_DOWN, Inexact, localcontext
from pathlib import Path

import pytest

import estimator
from estimator.errors import ScopeFaulty, TablesFaulty
from estimator.studies.comparison.comparison_json import comparison_json
from estimator.studies.difference.estimate_difference_json import estimate_difference_json
from estimator.studies.risk.risk_json import risk_fields
from estimator.workbook.estimate_workbook import estimate_bytes

PAGE = Path(__file__).parents[1] / "docs" / "library.md"
FLOORS = (
    "estimator.quantity",
    "estimator.quantity.takeoff",
    "estimator.rates.labor",
    "estimator.rates.machines",
    "estimator.rates.adjustment",
    "estimator.production",
    "estimator.assemblies",
    "estimator.ranges",
    "estimator.scheduling",
    "estimator.tracking",
    "estimator.funding",
)


def table_of(heading: str) -> str:
    """Return the table that stands below a heading row of the page."""
    return PAGE.read_text(encoding="utf-8").split(heading)[1].split("\n\n")[0]


def test_the_page_of_the_library_does_what_it_says(tmp_path):
    globs = {"folder": tmp_path}
    results = doctest.testfile(str(PAGE), module_relative=False, globs=globs)
    assert results.failed == 0
    assert results.attempted >= 15
    assert sorted(path.name for path in tmp_path.iterdir()) == ["estimate.xlsx", "methods.xlsx"]


def test_the_main_job_takes_twenty_lines_at_most():
    job = PAGE.read_text(encoding="utf-8").split("```python\n")[1].split("```")[0]
    assert len([line for line in job.splitlines() if line.startswith(">>>")]) <= 20


def test_the_page_lists_the_names_of_the_front_door():
    names = [row.split("|")[1] for row in table_of("| name | what it does |").splitlines()[2:]]
    listed = re.findall(r"`(\w+)`", " ".join(names))
    assert sorted(listed) == sorted(estimator.__all__)


@pytest.mark.parametrize("floor", FLOORS)
def test_the_page_lists_the_names_of_each_floor(floor):
    rows = table_of("| package | names |").splitlines()
    row = next(row for row in rows if row.startswith(f"| `{floor}` |"))
    assert sorted(re.findall(r"`(\w+)`", row)) == sorted(importlib.import_module(floor).__all__)


@pytest.mark.parametrize("package", ["estimator", *FLOORS])
def test_every_public_name_is_there_documented_and_no_module_of_its_package(package):
    door = importlib.import_module(package)
    modules = {
        path.stem for path in Path(str(door.__file__)).parent.iterdir() if path.suffix != ".csv"
    }
    for name in door.__all__:
        member = getattr(door, name)
        assert name not in modules
        assert not callable(member) or member.__doc__, name


@pytest.mark.parametrize("package", ["estimator", *FLOORS])
def test_a_door_is_light(package):
    heavy = {"numpy", "pandas", "pint", "openpyxl", "matplotlib", "scipy"}
    code = f"import sys, {package}; sys.exit(bool({heavy} & set(sys.modules)))"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_what_a_door_does_not_have_is_said_as_python_says_it():
    with pytest.raises(AttributeError, match="no_such_name"):
        getattr(estimator, "no_such_name")  # noqa: B009


def test_a_scope_without_a_day_needs_one(tmp_path):
    shutil.copytree(estimator.SAMPLE_SCOPE.parent, tmp_path, dirs_exist_ok=True)
    scope = tmp_path / estimator.SAMPLE_SCOPE.name
    text = scope.read_text(encoding="utf-8")
    scope.write_text(re.sub(r"(?m)^on:.*\n", "", text), encoding="utf-8")
    with pytest.raises(ScopeFaulty, match="no pricing date is named"):
        estimator.open_scope(scope)
    assert estimator.open_scope(scope, today=date(2026, 3, 5)).on == date(2026, 3, 5)
    assert estimator.open_scope(scope, on=date(2026, 3, 4), today=date(2026, 3, 5)).on.day == 4


def test_a_scope_names_its_own_rates_and_an_argument_goes_before_them(tmp_path):
    shutil.copytree(estimator.SAMPLE_SCOPE.parent, tmp_path, dirs_exist_ok=True)
    scope = tmp_path / estimator.SAMPLE_SCOPE.name
    text = scope.read_text(encoding="utf-8")
    scope.write_text(text.replace("\nquotes:", "\nrates: mine\nquotes:"), encoding="utf-8")
    with pytest.raises(TablesFaulty, match=r"the folder of rates .* is not there"):
        estimator.open_scope(scope)
    (tmp_path / "mine").mkdir()
    head = "code,name,kind,unit,rate,low,high,date,valid_until,paid,source,note\n"
    for folder, rate in (("mine", "41.00"), ("other", "43.00")):
        (tmp_path / folder).mkdir(exist_ok=True)
        row = f"laborer,Laborer,labor,hr,{rate},,,2026-02-01,,yes,own payroll,\n"
        (tmp_path / folder / "resources.csv").write_text(head + row, encoding="utf-8")
    for named, rate in ((None, "41.00"), (tmp_path / "other", "43.00")):
        _, tables, on = estimator.open_scope(scope, named)
        assert str(tables.rates.rate_on("laborer", on).rate) == rate


def test_a_fixed_premium_is_the_projects_own():
    shipped = estimator.open_tables()
    assert all(markup.fixed_sum is None for markup in shipped.markups.values())
    _, tables, _ = estimator.open_scope(estimator.SAMPLE_SCOPE)
    assert tables.markups["builders-risk"].origin.tables == "quotes"


def whole_job():
    """Return all that the main job says, as text and bytes."""
    scope, tables, on = estimator.open_scope(estimator.SAMPLE_SCOPE)
    estimate = estimator.price(scope, tables, on)
    risk = estimator.job_risk(estimate, iterations=1000)
    comparison = estimator.compare(scope, tables, on, "30.020")
    findings = estimator.findings_of(comparison)
    later = estimator.price(scope, tables, date(2026, 1, 20))
    sides = estimator.compared_estimate(later), estimator.compared_estimate(estimate)
    numbers = estimate.lines[["item", "line"]].itertuples(index=False)
    return (
        estimator.estimate_json(estimate, risk_fields(risk)),
        estimate_bytes(estimate, risk),
        [str(estimate.explain(f"{item}/{line}")) for item, line in numbers],
        comparison_json(comparison, findings),
        [estimator.cheapest_sentences(comparison, one) for one in findings.cheapest],
        estimate_difference_json(estimator.estimate_difference(*sides)),
    )


def test_no_setting_of_a_callers_decimals_changes_the_main_job():
    usual = whole_job()
    with localcontext(prec=6, rounding=ROUND_DOWN) as strict:
        strict.traps[Inexact] = True
        unusual = whole_job()
    assert unusual == usual
