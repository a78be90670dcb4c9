"""So many requests a minute, for each token and for wrong tokens from each address.

All workers of a host count together, in a piece of memory that they share: for each key the moment
until which its requests are paid for (the generic cell rate algorithm, as in ITU-T I.371). A
worker that is killed leaves nothing locked for long. Each host counts for itself.
"""

from __future__ import annotations

import mmap
import struct
from contextlib import suppress
from hashlib import blake2b
from multiprocessing import get_context

from api.settings import SettingsFaulty
from estimator.errors import fault

SLOTS = 16_384
PROBED = 8
MINUTE_S = 60.0
LONGEST_TURN_S = 1.0

_SLOT = struct.Struct("<Qd")


class Limits:
    """Counts by key; made before the workers are, so that they share it.

    Parameters
    ----------
    slots : int
        How many keys are told apart at a time; beyond, whoever asked least is forgotten.

    Raises
    ------
    SettingsFaulty
        If the machine has no place for a lock that processes share.
    """

    def __init__(self, slots: int = SLOTS) -> None:
        self.slots = slots
        self.memory = mmap.mmap(-1, _SLOT.size * (slots + PROBED))
        try:
            self.turn = get_context("fork").Lock()
        except OSError as error:
            raise fault(
                SettingsFaulty,
                f"workers cannot count requests together: /dev/shm: {error.strerror}",
                "mount a tmpfs there, with a few kilobytes free",
            ) from error

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
        """Keep other threads and processes out; one that died inside keeps nobody longer than that.

        The system would drop the lock of a file by itself, but takes it with the interpreter given
        to another thread, which then waits for this one: three changes of threads a request.
        """
        self.turn.acquire(timeout=LONGEST_TURN_S)

    def __exit__(self, *_: object) -> None:
        with suppress(ValueError):  # somebody who had waited too long has given it back already
            self.turn.release()
