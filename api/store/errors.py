"""What the store cannot do, in the family of `estimator.errors`: a sentence, and a stable code."""

from __future__ import annotations

from estimator.errors import InputFaulty


class NotFound(InputFaulty):
    """The caller's account has no such row; whether another account has it is not revealed."""

    code = "not-found"


class VersionStale(InputFaulty):
    """Somebody changed the row since it was read; nothing was written over."""

    code = "version-stale"


class AlreadyThere(InputFaulty):
    """A row of that name, code or number is there already."""

    code = "already-there"


class StillNeeded(InputFaulty):
    """A row cannot go because others rest on it, or names one that is not there."""

    code = "still-needed"


class ValueRefused(InputFaulty):
    """A value does not fit its column: too long, too large, or not of that kind."""

    code = "value-refused"


class Unchangeable(InputFaulty):
    """Estimates, published rates and the audit trail are never changed or deleted."""

    code = "unchangeable"


class KeyReused(InputFaulty):
    """An idempotency key was used before for something else."""

    code = "key-reused"


class StillInFlight(InputFaulty):
    """The same submission is being worked on right now."""

    code = "still-in-flight"


class StoreBusy(InputFaulty):
    """The turn to write did not come in time; nothing was done, asking again is safe."""

    code = "store-busy"


class ChangedMeanwhile(StoreBusy):
    """What a change was prepared from was changed again and again; asking again is safe."""

    code = "changed-meanwhile"


class DiskFull(InputFaulty):
    """The disk of the database takes no more; nothing was lost, and asking again is safe."""

    code = "disk-full"


class StoreUnfit(InputFaulty):
    """The database is missing, of another version, or not one that can be used."""

    code = "store-unfit"


class StoreFaulty(InputFaulty):
    """Stored data contradicts itself: it was altered, or damaged."""

    code = "store-faulty"


class MadeDifferently(InputFaulty):
    """Another version of the program made it, and this one comes to other figures."""

    code = "made-differently"


class CopyRefused(InputFaulty):
    """A backup, restore or move would write over something, or has nothing sound to read."""

    code = "copy-refused"
