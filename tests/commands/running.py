"""Runs the installed command as a user would, in a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Ran:
    """What a command answered."""

    exit_code: int
    out: str
    err: str


def groundsill(*arguments: str | Path, folder: Path | None = None, columns: int = 80) -> Ran:
    """Run `groundsill` in a folder and return its answer."""
    command = Path(sys.executable).with_name("groundsill")
    done = subprocess.run(
        [str(command), *map(str, arguments)],
        cwd=folder,
        env={**os.environ, "COLUMNS": str(columns), "TERM": "dumb"},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    return Ran(done.returncode, done.stdout, done.stderr)
