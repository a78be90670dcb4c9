"""So many requests a minute, for each token and for wrong tokens from each address.

All workers of a host count together, in a piece of memory that they share: for each key the moment
until which its requests are paid for (the generic cell rate algorithm, as in ITU-T I.371). A
worker that is killed leaves nothing locked behind. Each host counts for itself.
"""

from __future__ import annotations

import fcntl
import mmap
import os
import struct
from hashlib import blake2b
from threading import Lock
from weakref import finalize

SLOTS = 16_384
PROBED = 8
MINUTE_S = 60.0

_SLOT = struct.Struct("<Qd")


class Limits:
    """Counts by key; made before the workers are, so that they share it.

    Parameters
    ----------
    slots : int
        How many keys are told apart at a time; beyond, whoever asked least is forgotten.
    """

    def __init__(self, slots: int = SLOTS) -> None:
        self.slots = slots
        self.file = os.memfd_create("groundsill-limits")
        os.ftruncate(self.file, _SLOT.size * (slots + PROBED))
        self.memory = mmap.mmap(self.file, 0)
        finalize(self, os.close, self.file)
        self.lock = Lock()

    def take(self, key: str, per_minute: int, now_s: float) -> float:
        """Return how long to wait before the next request of a key [s]; 0 if it may go on now.

        Parameters
        ----------
        key : str
            What is counted together.
        per_minute : int
            How many at once after a pause, and on average.
        now_s : float
            [s] Any clock that all workers share.
        """
        mark = int.from_bytes(blake2b(key.encode(), digest_size=8).digest(), "little") or 1
        with self:
            place, paid_until_s = self._found(mark, now_s)
            paid_s = max(paid_until_s, now_s) + MINUTE_S / per_minute
            wait_s = paid_s - now_s - MINUTE_S
            if wait_s > 1e-6:
                return wait_s
            _SLOT.pack_into(self.memory, place, mark, paid_s)
        return 0.0

    def _found(self, mark: int, now_s: float) -> tuple[int, float]:
        """Return the place of a key and until when it has paid; a free place if it is new."""
        least, least_s = 0, float("inf")
        for step in range(PROBED):
            place = (mark % self.slots + step) * _SLOT.size
            other, paid_until_s = _SLOT.unpack_from(self.memory, place)
            if other == mark:
                return place, paid_until_s
            if paid_until_s < least_s:
                least, least_s = place, paid_until_s
        return least, now_s

    def __enter__(self) -> None:
        """Keep other threads and processes out; the system drops the lock of one that dies."""
        self.lock.acquire()
        fcntl.lockf(self.file, fcntl.LOCK_EX)

    def __exit__(self, *_: object) -> None:
        fcntl.lockf(self.file, fcntl.LOCK_UN)
        self.lock.release()
