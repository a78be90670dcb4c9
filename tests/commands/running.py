"""Runs commands as a user would: all in this process, those named so in one of their own."""

from __future__ import annotations

import os
import subprocess
import sys
from contextlib import chdir
from dataclasses import dataclass
from pathlib import Path
from traceback import format_exception

from click.testing import CliRunner

from api.commands import main


@dataclass(frozen=True)
class Ran:
    """What a command answered."""

    exit_code: int
    out: str
    err: str


def groundsill(*arguments: str | Path, folder: Path | None = None, columns: int = 80) -> Ran:
    """Run `groundsill` in a folder and return its answer; a traceback stands in `err`."""
    with chdir(folder or Path.cwd()):
        done = CliRunner(env=_terminal(columns)).invoke(main, [str(one) for one in arguments])
    is_torn = done.exception is not None and not isinstance(done.exception, SystemExit)
    torn = "".join(format_exception(done.exception)) if is_torn else ""
    return Ran(done.exit_code, done.stdout, done.stderr + torn)


def installed(*arguments: str | Path, folder: Path | None = None, columns: int = 80) -> Ran:
    """Run the installed `groundsill` in a process of its own, which takes a second longer."""
    done = subprocess.run(
        [Path(sys.executable).with_name("groundsill"), *map(str, arguments)],
        cwd=folder,
        env=os.environ | _terminal(columns),
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    return Ran(done.returncode, done.stdout, done.stderr)


def _terminal(columns: int) -> dict[str, str]:
    return {"COLUMNS": str(columns), "TERM": "dumb"}
