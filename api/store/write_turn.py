"""Turns to write to an SQLite file: whoever came first writes first, across threads and processes.

SQLite lets waiting writers try again at random, so a busy process can keep another from ever
writing. Here each writer draws a ticket and holds a lock on that ticket's byte of a file; its
turn has come as soon as nobody holds a lower one. The operating system drops the locks of a
process that dies, so a killed writer never blocks those behind it.
"""

from __future__ import annotations

import fcntl
import os
import struct
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from time import monotonic, sleep

from api.store.errors import StoreBusy, StoreUnfit
from estimator.errors import fault

_TICKET = struct.Struct("<q")
_LOCK = struct.Struct("hhqqi4x")
_DOOR = 0
_FIRST_TICKET_BYTE = 8
_SHORTEST_NAP_S = 0.0002
_LONGEST_NAP_S = 0.002
_OWNER_ONLY = 0o600


class WriteTurns:
    """The queue at one file.

    Parameters
    ----------
    path : Path
        The file that holds the last ticket drawn; it is made where it is missing.
    longest_wait_s : float
        [s] After which a writer gives up.
    """

    def __init__(self, path: Path, longest_wait_s: float) -> None:
        if not hasattr(fcntl, "F_OFD_SETLK"):
            raise fault(
                StoreUnfit,
                "this system has no file locks that threads can hold",
                "run the service on Linux, or use PostgreSQL",
            )
        self.path = path
        self.longest_wait_s = longest_wait_s

    @contextmanager
    def turn(self) -> Iterator[None]:
        """Wait for the turn, hold it inside the `with`, and give it up after.

        Raises
        ------
        StoreBusy
            If it did not come within the longest wait.
        """
        file = os.open(self.path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, _OWNER_ONLY)
        try:
            self._wait(file, _ticket(file))
            yield
        finally:
            os.close(file)  # which drops the locks of this opening, and no others

    def _wait(self, file: int, ticket: int) -> None:
        give_up_at, nap_s = monotonic() + self.longest_wait_s, _SHORTEST_NAP_S
        while _somebody_holds_below(file, ticket):
            if monotonic() > give_up_at:
                raise fault(
                    StoreBusy,
                    f"the turn to write did not come within {self.longest_wait_s:g} seconds",
                    "ask again in a moment",
                )
            sleep(nap_s)
            nap_s = min(nap_s * 1.5, _LONGEST_NAP_S)


def _ticket(file: int) -> int:
    """Draw the next ticket and lock its byte, before anybody else can draw."""
    _ask(file, fcntl.F_OFD_SETLKW, fcntl.F_WRLCK, _DOOR, 1)
    written = os.pread(file, _TICKET.size, 0)
    ticket = (_TICKET.unpack(written)[0] if len(written) == _TICKET.size else 0) + 1
    os.pwrite(file, _TICKET.pack(ticket), 0)
    _ask(file, fcntl.F_OFD_SETLKW, fcntl.F_WRLCK, _FIRST_TICKET_BYTE + ticket, 1)
    _ask(file, fcntl.F_OFD_SETLK, fcntl.F_UNLCK, _DOOR, 1)
    return ticket


def _somebody_holds_below(file: int, ticket: int) -> bool:
    found = _ask(file, fcntl.F_OFD_GETLK, fcntl.F_WRLCK, _FIRST_TICKET_BYTE, ticket)
    return found != fcntl.F_UNLCK


def _ask(file: int, command: int, kind: int, start: int, length: int) -> int:
    """Ask the system about a lock on some bytes, and return the kind that it answers with."""
    asked = _LOCK.pack(kind, os.SEEK_SET, start, length, 0)
    answer: int = _LOCK.unpack(fcntl.fcntl(file, command, asked))[0]
    return answer
