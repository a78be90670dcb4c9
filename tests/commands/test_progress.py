"""Progress is shown on a terminal, once work takes over a second, and nowhere else."""

import os
import pty
import subprocess
import sys

PROGRAM = """
import time
from api.commands import progress
progress.PATIENCE_S = float("{patience}")
with progress.shown_if_long("Pricing"):
    time.sleep(0.5)
"""


def shown(patience: float) -> str:
    """Return what work of half a second writes to a terminal on its error channel."""
    here, there = pty.openpty()
    code = PROGRAM.format(patience=patience)
    subprocess.run([sys.executable, "-c", code], stderr=there, check=True)
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


def test_short_work_is_not() -> None:
    assert shown(60.0) == ""


def test_nothing_is_shown_where_there_is_no_terminal() -> None:
    code = PROGRAM.format(patience=0)
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert (ran.stdout, ran.stderr) == (b"", b"")
