"""`groundsill difference`, and the commands of docs/comparing-estimates.md as they stand there."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.commands.running import groundsill

PAGE = Path("docs/comparing-estimates.md").read_text(encoding="utf-8")
(BLOCK,) = re.findall(r"^```console\n(.*?)^```", PAGE, re.MULTILINE | re.DOTALL)


@pytest.fixture(scope="module")
def shown(demo, tmp_path_factory):
    """The folder in which the commands of the page were run, and what they printed."""
    folder = tmp_path_factory.mktemp("page")
    shutil.copytree(demo / "out", folder / "out")
    script = "\n".join(line[2:] for line in BLOCK.splitlines() if line.startswith("$ "))
    path = f"{Path(sys.executable).parent}:{os.environ['PATH']}"
    ran = subprocess.run(
        ["bash", "-e", "-c", script], cwd=folder, capture_output=True, text=True, check=True,
        env={**os.environ, "PATH": path, "COLUMNS": "80", "TERM": "dumb"},
    )  # fmt: skip
    return folder, ran.stdout


def test_the_page_shows_what_its_commands_print(shown):
    told = [line for line in BLOCK.splitlines() if not line.startswith("$ ")]
    assert shown[1].splitlines() == told


@pytest.mark.parametrize("columns", [40, 80, 200])
def test_it_fits_the_terminal(shown, columns):
    ran = groundsill("difference", "before.json", "after.json", folder=shown[0], columns=columns)
    assert ran.exit_code == 0
    assert max(map(len, ran.out.splitlines())) <= min(columns, 80)


@pytest.mark.parametrize("columns", [40, 50, 80])
def test_no_figure_of_millions_is_cut_short_on_a_narrow_terminal(shown, tmp_path, columns):
    # 404,836.92 and 410,922.12 of the page, and a markup of 23,456,789.01 more
    fields = json.loads((shown[0] / "before.json").read_text(encoding="utf-8"))
    fields["markups"].append({"code": "crane", "name": "Crane", "amount": "23456789.01"})
    for total, amount in (("cash_cost", "23861625.93"), ("full_cost", "23867711.13")):
        fields["totals"][total] = amount
    (tmp_path / "dear.json").write_text(json.dumps(fields), encoding="utf-8")
    ran = groundsill(
        "difference", "before.json", tmp_path / "dear.json", folder=shown[0], columns=columns
    )
    assert ran.exit_code == 0, ran.err
    told = re.sub(r"(Before|After|Difference) \$", "", ran.out)
    assert re.search(r"Cash cost\s+404,836.92\s+23,861,625.93\s+\+23,456,789.01\s", told)
    assert re.search(r"\s410,922.12\s+23,867,711.13\s+\+23,456,789.01\s", told)
    assert max(map(len, ran.out.splitlines())) <= columns


def test_json_has_the_worked_numbers_of_the_page(shown):
    ran = groundsill("difference", "before.json", "after.json", "--json", folder=shown[0])
    line = next(one for one in json.loads(ran.out)["lines"] if one["difference"] == "918.53")
    # 367.71 x 12.50 - 316.29 x 12.50 and 367.71 x 13.25 - 367.71 x 12.50, each to the cent, by hand
    assert (line["by_cause"]["quantity"], line["by_cause"]["rate"]) == ("642.75", "275.78")


def test_an_estimate_and_itself_do_not_differ(shown):
    ran = groundsill("difference", "before.json", "before.json", folder=shown[0])
    assert ran.exit_code == 0
    assert "No line changed." in ran.out


@pytest.mark.parametrize(
    ("content", "told"), [(b"{}", "is not an estimate"), (b"x", "is not JSON"), (b"\xff", "UTF-8")]
)
def test_what_is_no_estimate_is_refused_with_nothing_on_the_output(shown, tmp_path, content, told):
    wrong = tmp_path / "wrong.json"
    wrong.write_bytes(content)
    ran = groundsill("difference", "before.json", wrong, folder=shown[0])
    assert (ran.exit_code, ran.out) == (1, "")
    assert ran.err.splitlines()[1].startswith("- wrong.json: ")
    assert told in ran.err


def test_a_missing_file_is_wrong_usage(shown):
    assert groundsill("difference", "before.json", "none.json", folder=shown[0]).exit_code == 2
