"""A process that is watched while it works, and ended when it takes more than it may.

The watch is the same on every system; what the system's own limits hold differs from one to the
next.
"""

from __future__ import annotations

import subprocess
from collections.abc import Sequence
from contextlib import suppress
from tempfile import TemporaryFile
from typing import IO, NamedTuple

import psutil

from estimator.workbook.reading.limits import ReadingLimits

_LOOK_S = 0.01


class Ended(NamedTuple):
    """How a process ended by itself: its exit code and all that it wrote."""

    exit_code: int
    output: bytes


def run_watched(command: Sequence[str], content: bytes, limits: ReadingLimits) -> Ended | None:
    """Run a process, and return how it ended; None if it took too much and was ended.

    Parameters
    ----------
    command : sequence of str
        Program and arguments.
    content : bytes
        What it reads on its standard input.
    limits : ReadingLimits
        What it may take, looked at a hundred times a second.
    """
    with TemporaryFile() as sent:  # a pipe would not be filled any further after the first look
        sent.write(content)
        sent.seek(0)
        return _watched(command, sent, limits)


def _watched(command: Sequence[str], sent: IO[bytes], limits: ReadingLimits) -> Ended | None:
    with subprocess.Popen(  # noqa: S603 (no shell; the words are our own)
        command, stdin=sent, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as child:
        for _ in range(round(limits.wait_s / _LOOK_S)):
            with suppress(subprocess.TimeoutExpired):
                output, _ = child.communicate(timeout=_LOOK_S)
                return Ended(child.returncode, output)
            if _takes_too_much(child.pid, limits):
                break
        child.kill()
    return None


def _takes_too_much(pid: int, limits: ReadingLimits) -> bool:
    with suppress(psutil.Error):  # it has just ended
        watched = psutil.Process(pid)
        taken = watched.cpu_times()
        worked_s: float = taken.user + taken.system
        held_bytes: int = watched.memory_info().rss
        return worked_s > limits.processor_s or held_bytes > limits.memory_bytes
    return False
