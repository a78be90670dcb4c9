"""How much time and memory the reading of a workbook may take."""

from __future__ import annotations

from dataclasses import dataclass

# A busy machine lets a process wait this many times as long as it works, and longer is no reading.
_WAIT_FOR_WORK = 12.5


@dataclass(frozen=True)
class ReadingLimits:
    """What the process that reads a workbook may take; one that takes more is ended.

    Parameters
    ----------
    processor_s : float
        [s] Work of a processor. The usual 1.6 s read 2,000 items and more.
    memory_bytes : int
        [byte] Memory that it holds.

    Examples
    --------
    >>> ReadingLimits().wait_s
    20.0
    """

    processor_s: float = 1.6
    memory_bytes: int = 256_000_000

    @property
    def wait_s(self) -> float:
        """Time on the clock after which nobody waits any longer [s]."""
        return _WAIT_FOR_WORK * self.processor_s


USUAL_LIMITS = ReadingLimits()
