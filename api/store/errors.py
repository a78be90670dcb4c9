"""What the store cannot do, in the family of `estimator.errors`: a sentence, and a stable code."""

from __future__ import annotations

from estimator.errors import InputFaulty


class NotFound(InputFaulty):
    """Your account has no such row; the answer is the same if another account has it."""

    code = "not-found"


class VersionStale(InputFaulty):
    """Somebody changed the row after you read it; nothing was written over."""

    code = "version-stale"


class AlreadyThere(InputFaulty):
    """A row with that name, code or number already exists."""

    code = "already-there"


class StillNeeded(InputFaulty):
    """Other rows depend on this one, or it names a row that does not exist."""

    code = "still-needed"


class ValueRefused(InputFaulty):
    """A value does not fit its column: too long, too large, or not of that kind."""

    code = "value-refused"


class Unchangeable(InputFaulty):
    """What is final (an estimate, an entry, a published rate) is never changed or deleted."""

    code = "unchangeable"


class KeyReused(InputFaulty):
    """An idempotency key was used before for something else."""

    code = "key-reused"


class StillInFlight(InputFaulty):
    """The same request is still being worked on."""

    code = "still-in-flight"


class StoreBusy(InputFaulty):
    """The change waited too long for its turn; nothing was done, and it is safe to send again."""

    code = "store-busy"


class ChangedMeanwhile(StoreBusy):
    """What the change was based on kept changing; nothing was done, it is safe to send again."""

    code = "changed-meanwhile"


class DiskFull(InputFaulty):
    """The database's disk is full; nothing was lost, and it is safe to send again."""

    code = "disk-full"


class StoreUnfit(InputFaulty):
    """The database is missing, belongs to another version, or cannot be used."""

    code = "store-unfit"


class StoreFaulty(InputFaulty):
    """Stored data contradicts itself: it was altered, or damaged."""

    code = "store-faulty"


class MadeDifferently(InputFaulty):
    """Another version of the program made this, and the present one comes to other figures."""

    code = "made-differently"


class CopyRefused(InputFaulty):
    """A backup, restore or move would write over something, or its source is not sound."""

    code = "copy-refused"
