"""Turns to write to an SQLite file: in a process, whoever came first writes first.

SQLite lets waiting writers try again at random, so a busy thread can keep another from ever
writing. Here the threads of a process stand in line, and the first of them holds a lock on a file
against other processes, such as a command that writes beside the service. The operating system
drops the lock of a process that dies.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event, Lock
from time import monotonic

from filelock import FileLock, Timeout

from api.store.errors import StoreBusy
from estimator.errors import InputFaulty, fault

_POLL_S = 0.001
_OWNER_ONLY = 0o600


class WriteTurns:
    """The line of those who wait to write.

    Parameters
    ----------
    path : Path
        The file that is locked; it is made where it is missing.
    longest_wait_s : float
        [s] After which a writer gives up.
    """

    def __init__(self, path: Path, longest_wait_s: float) -> None:
        self.longest_wait_s = longest_wait_s
        self._line: deque[Event] = deque()  # only the first is set
        self._moving = Lock()
        self._file = FileLock(path, mode=_OWNER_ONLY, thread_local=False, poll_interval=_POLL_S)

    @contextmanager
    def turn(self) -> Iterator[None]:
        """Wait for the turn, hold it inside the `with`, and give it up after.

        Raises
        ------
        StoreBusy
            If it did not come within the longest wait.
        """
        ticket, give_up_at = Event(), monotonic() + self.longest_wait_s
        with self._moving:
            self._line.append(ticket)
            self._line[0].set()
        try:
            if not ticket.wait(self.longest_wait_s):
                raise self._late()
            try:
                self._file.acquire(timeout=max(0.0, give_up_at - monotonic()))
            except Timeout as error:
                raise self._late() from error
            try:
                yield
            finally:
                self._file.release()
        finally:
            with self._moving:
                self._line.remove(ticket)
                if self._line:
                    self._line[0].set()

    def _late(self) -> InputFaulty:
        return fault(
            StoreBusy,
            f"the turn to write did not come within {self.longest_wait_s:g} seconds",
            "ask again in a moment",
        )
