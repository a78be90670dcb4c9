"""An idle service is small: what is heavy is loaded by the first request that needs it."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.api.live import served

pytestmark = pytest.mark.xdist_group("live")

HEAVY = (
    "flask_smorest", "matplotlib", "numpy", "openpyxl", "pandas", "pint", "scipy",
    "sqlalchemy.dialects.postgresql",
)  # fmt: skip
LARGEST_KB = 80_000


def test_the_service_loads_none_of_the_heavy_libraries_when_it_is_made():
    script = (
        "import sys; import api.app; import api.server; "
        f"print([one for one in {HEAVY} if one in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


def resident_kb(pid: int) -> int:
    told = Path(f"/proc/{pid}/status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+) kB", told)[1])


def test_an_idle_service_on_an_up_to_date_database_stays_under_80_mb(tmp_path):
    with served(tmp_path) as first:
        token = first.token
    headers = {"Authorization": f"Bearer {token}"}
    with served(tmp_path) as live:
        for _ in range(30):
            assert live.send("GET", "/v1/account", headers=headers).status == 200
        assert resident_kb(live.process.pid) < LARGEST_KB
