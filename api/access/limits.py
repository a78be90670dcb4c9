"""So many requests a minute, for each token and for wrong tokens from each address.

Each process counts for itself; what counts for a host is the proxy in front of it.
"""

from __future__ import annotations

import time
from threading import Lock

from limits import RateLimitItemPerMinute
from limits.storage import MemoryStorage
from limits.strategies import FixedWindowRateLimiter


class Limits:
    """Counts by key, each over the minute that begins with its first request."""

    def __init__(self) -> None:
        self._limiter = FixedWindowRateLimiter(MemoryStorage())
        # The storage starts a timer of its own, and two threads at once would start the same one.
        self._one_at_a_time = Lock()

    def take(self, key: str, per_minute: int) -> float:
        """Return how long to wait before the next request of a key [s]; 0 if it may go on now.

        Parameters
        ----------
        key : str
            What is counted together.
        per_minute : int
            How many may go on in a minute.
        """
        limit = RateLimitItemPerMinute(per_minute)
        with self._one_at_a_time:
            if self._limiter.hit(limit, key):
                return 0.0
            return max(1.0, self._limiter.get_window_stats(limit, key).reset_time - time.time())
