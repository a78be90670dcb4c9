"""Progress is shown on a terminal, once work takes over a second, and nowhere else."""

import os
import pty
import subprocess
import sys

import pytest

from tests.commands.running import groundsill

PROGRAM = """
import time
from api.commands import progress
progress.PATIENCE_S = float("{patience}")
with progress.shown_if_long("Pricing"):
    time.sleep(0.5)
"""


def shown(patience: float) -> str:
    """Return what work of half a second writes to a terminal on its error channel."""
    return on_a_terminal(PROGRAM.format(patience=patience))


def on_a_terminal(code: str) -> str:
    """Return what a program writes to a terminal on its error channel."""
    here, there = pty.openpty()
    subprocess.run(
        [sys.executable, "-c", code], stdout=subprocess.DEVNULL, stderr=there, check=True
    )
    os.close(there)
    text = b""
    while piece := _read(here):
        text += piece
    os.close(here)
    return text.decode()


def _read(terminal: int) -> bytes:
    try:
        return os.read(terminal, 4096)
    except OSError:  # the other side is closed, and all is read
        return b""


def test_work_that_takes_long_is_shown_on_a_terminal() -> None:
    assert "Pricing" in shown(0.0)


@pytest.mark.parametrize(
    ("words", "shown_words"), [("export {out}", "Writing"), ("import {out} {folder}", "Reading")]
)
def test_long_work_on_workbooks_of_rates_is_shown(tmp_path, words, shown_words):
    out, folder = tmp_path / "rates.xlsx", tmp_path / "rates"
    if shown_words == "Reading":
        assert groundsill("rates", "export", str(out)).exit_code == 0
    arguments = ["rates", *words.format(out=out, folder=folder).split()]
    code = (
        "from api.commands import main, progress; progress.PATIENCE_S = 0.0; "
        f"main({arguments!r}, standalone_mode=False)"
    )
    assert shown_words in on_a_terminal(code)


def test_short_work_is_not() -> None:
    assert shown(60.0) == ""


def test_nothing_is_shown_where_there_is_no_terminal() -> None:
    code = PROGRAM.format(patience=0)
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert (ran.stdout, ran.stderr) == (b"", b"")
