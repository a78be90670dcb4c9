"""Promise 22: the embedded service and the commands need nothing that only one system has."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from api.calculations.scopes import WORKBOOK_TYPE
from tests.api.live import served
from tests.api.service import new_key
from tests.workbook.filled import filled

pytestmark = pytest.mark.xdist_group("live")

TAKEN_AWAY = """
import os, sys, tempfile
import psutil  # its part for this system needs `resource`; its parts for others do not
own = tempfile.gettempdir()  # of the tests: it may be in memory too
for name in ("fcntl", "resource", "pwd", "grp", "termios", "_posixshmem"):
    sys.modules[name] = None
for name in ("fork", "forkpty"):
    delattr(os, name)

def refuse(event, arguments):
    path = str(arguments[0]) if event == "open" else ""
    if path.startswith("/dev/shm") and not path.startswith(own):
        raise FileNotFoundError(2, "taken away", path)

sys.addaudithook(refuse)
"""
WITHOUT = """
import os
for name in ("fcntl", "resource"):
    try:
        __import__(name)
    except ImportError:
        print("no", name)
print(hasattr(os, "fork"))
try:
    open("/dev/shm/groundsill", "w")
except FileNotFoundError:
    print("no memory")
"""
SCOPE = """
project: Barn
on: 2026-03-02
phases:
  - code: "20"
    name: Pits
    items:
      - {code: "010", name: Fabric, assembly: geotextile, inputs: {area: 2950 sf}}
"""


@pytest.fixture
def elsewhere(tmp_path: Path) -> dict[str, str]:
    """What makes a Python program start without the parts of one system."""
    (tmp_path / "start").mkdir()
    (tmp_path / "start" / "sitecustomize.py").write_text(TAKEN_AWAY, encoding="utf-8")
    return {
        "PYTHONPATH": str(tmp_path / "start"),
        "PYTHONWARNINGS": "ignore:only soft file lock is available",
    }


def run(folder: Path, options: dict[str, str], *command: str | Path, code: int = 0) -> str:
    """Return what a command prints."""
    clean = {name: value for name, value in os.environ.items() if "GROUNDSILL_" not in name}
    environment = clean | {"GROUNDSILL_DATA_FOLDER": str(folder / "data")} | options
    ran = subprocess.run(
        list(map(str, command)), capture_output=True, env=environment, cwd=folder, check=False
    )
    said = (ran.stdout + ran.stderr).decode(errors="replace")
    assert ran.returncode == code, said
    assert "Traceback" not in said
    return said


def groundsill() -> Path:
    return Path(sys.executable).parent / "groundsill"


def test_what_is_taken_away_is_away(tmp_path, elsewhere):
    told = run(tmp_path, elsewhere, sys.executable, "-c", WITHOUT)
    assert told.splitlines() == ["no fcntl", "no resource", "False", "no memory"]


def test_the_service_and_a_command_beside_it_work_without_the_parts_of_one_system(
    tmp_path, elsewhere
):
    with served(tmp_path, is_first=True, **elsewhere) as live:
        key = [{name.replace("-", "_"): text for name, text in new_key().items()} for _ in "12"]
        made = live.ask("POST", "/v1/projects/from-scope", {"scope": SCOPE}, **key[0])
        assert made.status == 201, made.text
        path = f"{made.headers['Location']}/estimates"
        priced = live.ask("POST", path, {}, **key[1])
        assert priced.status == 201, priced.text
        summary = live.ask("GET", priced.headers["Location"])
        assert summary.status == 200
        assert json.loads(summary.text)["totals"]["direct_cost"] == "1069.80"
        book = filled([["20", "010", "Permits", "permits", "valuation", "$310,000"]])
        read = live.ask(
            "POST", "/v1/calculations/estimate-of-file", book, Content_Type=WORKBOOK_TYPE
        )
        assert read.status == 200, read.text
        opened = run(tmp_path, elsewhere, groundsill(), "account", "open", "Rail & Kiln")
        assert "Account Rail & Kiln is open" in opened
        run(tmp_path, elsewhere, groundsill(), "database", "backup", tmp_path / "copy.sqlite3")
        verified = run(tmp_path, elsewhere, groundsill(), "database", "verify")
        assert "2 accounts" in verified
    assert live.process.returncode == 0
    assert "Traceback" not in live.log.read_text()


def test_the_commands_price_and_write_workbooks_without_the_parts_of_one_system(
    tmp_path, elsewhere
):
    run(tmp_path, elsewhere, groundsill(), "demo", "--out", "out")
    (tmp_path / "scope.xlsx").write_bytes(
        filled([["20", "010", "Permits", "permits", "valuation", "$310,000"]])
    )
    told = run(tmp_path, elsewhere, groundsill(), "price", "scope.xlsx", "--on", "2026-03-02",
               "--xlsx", "priced.xlsx")  # fmt: skip
    assert "Permits" in told
    assert (tmp_path / "priced.xlsx").read_bytes()[:2] == b"PK"


@pytest.mark.parametrize("code_page", ["cp1252", "cp437", "ascii"])
def test_a_letter_that_the_terminal_lacks_is_no_end_of_a_command(tmp_path, code_page):
    scope = SCOPE.replace("Barn", "Barn \u2013 \u0414\u0435\u043f\u043e \u2212")
    (tmp_path / "scope.yaml").write_text(scope, encoding="utf-8")
    page = {"PYTHONIOENCODING": code_page, "PYTHONUTF8": "0"}
    told = run(tmp_path, page, groundsill(), "price", "scope.yaml")
    assert "Barn " in told
    assert "???? ?" in told or code_page == "ascii"
    (tmp_path / "wrong.yaml").write_text(scope.replace("geotextile", "\u0414"), encoding="utf-8")
    refused = run(tmp_path, page, groundsill(), "price", "wrong.yaml", code=1)
    assert "1 problem found" in refused
