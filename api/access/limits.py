"""So many requests a minute, for each token and for wrong tokens from each address.

Each process counts for itself; what counts for a host is the proxy in front of it.
"""

from __future__ import annotations

from collections import Counter
from datetime import datetime, timedelta
from threading import Lock

_MINUTE = timedelta(minutes=1)


class Limits:
    """Counts by key, over the minute that begins with the first request after the one before."""

    def __init__(self) -> None:
        self._counts: Counter[str] = Counter()
        self._began: datetime | None = None
        self._one_at_a_time = Lock()

    def take(self, key: str, per_minute: int, now: datetime) -> float:
        """Return how long to wait before the next request of a key [s]; 0 if it may go on now.

        Parameters
        ----------
        key : str
            What is counted together.
        per_minute : int
            How many may go on in a minute.
        now : datetime
            When the request came.
        """
        with self._one_at_a_time:
            # a clock that is set back begins a minute too, or it would lock out for the difference
            if self._began is None or abs(now - self._began) >= _MINUTE:
                self._counts.clear()
                self._began = now
            if self._counts[key] < per_minute:
                self._counts[key] += 1
                return 0.0
            return max(1.0, (self._began + _MINUTE - now).total_seconds())
