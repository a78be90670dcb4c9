"""Turns to write to an SQLite file: in a process, whoever came first writes first.

SQLite lets waiting writers try again at random, so a busy thread can keep another from ever
writing. Here the threads of a process stand in line, and the process holds a lock on a file against
others, such as a command that writes beside the service. It holds it for one turn, or for turns
that follow each other, of which none begins after a tenth of a second; then it leaves time for
another to take it. The operating system drops the lock of a process that dies.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event, Lock
from time import monotonic, sleep

from filelock import FileLock, Timeout

from api.store.errors import StoreBusy
from estimator.errors import InputFaulty, fault

LONGEST_HOLD_S = 0.1
_POLL_S = 0.001
_FOR_OTHERS_S = 3 * _POLL_S
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
        self._let_go_at = 0.0

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
            self._take_file(give_up_at)
            yield
        finally:
            self._leave(ticket)

    def _take_file(self, give_up_at: float) -> None:
        """Hold the file, unless the turn before left it held."""
        if self._file.is_locked:
            return
        try:
            self._file.acquire(timeout=max(0.0, give_up_at - monotonic()))
        except Timeout as error:
            raise self._late() from error
        self._let_go_at = monotonic() + LONGEST_HOLD_S

    def _leave(self, ticket: Event) -> None:
        """Leave the line, and let go of the file if nobody waits or others may have waited long."""
        with self._moving:
            was_first = self._line[0] is ticket
            self._line.remove(ticket)
            if was_first and self._file.is_locked:
                is_overdue = monotonic() > self._let_go_at
                if is_overdue or not self._line:
                    self._file.release()
                if is_overdue and self._line:
                    sleep(_FOR_OTHERS_S)  # in a process that waits, one looks every millisecond
            if self._line:
                self._line[0].set()

    def _late(self) -> InputFaulty:
        return fault(
            StoreBusy,
            f"the change did not get its turn within {self.longest_wait_s:g} s",
            "try again in a moment",
        )
