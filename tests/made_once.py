"""Folders that are made once for all workers of the tests, of which each has a copy."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from filelock import FileLock

_DONE = "made.txt"


def made_once(
    factory: pytest.TempPathFactory, name: str, make: Callable[[Path], str]
) -> tuple[Path, str]:
    """Return this worker's own copy of a folder, and what was said when it was made.

    Parameters
    ----------
    factory : TempPathFactory
        Of the session.
    name : str
        Of the folder.
    make : callable
        Fills the empty folder and returns what is to be kept in words; called by one worker only.
    """
    base = factory.getbasetemp()
    folder = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / f"{name}-for-all"
    with FileLock(f"{folder}.lock"):
        if not (folder / _DONE).exists():
            folder.mkdir(exist_ok=True)
            (folder / _DONE).write_text(make(folder), encoding="utf-8")
    own = factory.mktemp(name)
    shutil.copytree(folder, own, dirs_exist_ok=True)
    (own / _DONE).unlink()
    return own, (folder / _DONE).read_text(encoding="utf-8")
