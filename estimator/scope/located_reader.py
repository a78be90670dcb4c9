"""Reading located text field by field, with every fault noted at its place."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from datetime import date
from typing import TypeVar

from estimator.errors import Faults, InputFaulty, did_you_mean, quoted
from estimator.quantity.measures import Measure, read_measure
from estimator.quantity.units import Unit
from estimator.rates.rows import EARLIEST, LATEST, WITHIN, day_remedy
from estimator.scope.located import Listing, Located, Section, Text

LONGEST_TEXT = 500
MOST_TEXTS = 20_000  # as many as items

Result = TypeVar("Result")

_CODE = re.compile(r"[0-9A-Za-z]{1,12}(-[0-9A-Za-z]{1,12})?", re.ASCII)


class LocatedReader:
    """Reads located text field by field; a stand-in is returned where a fault is noted."""

    def __init__(self, faults: Faults) -> None:
        self.faults = faults

    def section(self, written: Located | None, what: str, keys: Collection[str]) -> Section:
        """Return the keys under a place, noting unknown ones with the nearest known key."""
        if not isinstance(written, Section):
            where = written.where if written else ""
            self.faults.add(where, f"{what} is not a set of keys", "expected " + ", ".join(keys))
            return Section({}, where, is_stand_in=True)
        for key in [key for key in written.entries if key not in keys]:
            self.faults.add(
                written.entries[key].where,
                f"unknown key {quoted(key)} in {what}",
                did_you_mean(key, keys),
            )
        return written

    def text(self, section: Section, key: str, *, required: bool = True) -> str:
        """Return one text on one line, noting it where it is missing, too long or not printable."""
        written = section.entries.get(key)
        if written is None or (isinstance(written, Text) and not written.value.strip()):
            if required and not section.is_stand_in:
                self.faults.add(section.where, f"{key} is missing")
            return ""
        if not isinstance(written, Text):
            self.faults.add(written.where, f"{key} is not a single text")
            return ""
        value = " ".join(written.value.split())
        if len(value) > LONGEST_TEXT:
            self.faults.add(written.where, f"{key} is longer than {LONGEST_TEXT} characters")
        elif not value.isprintable():
            self.faults.add(written.where, f"{key} has control characters", "type the text again")
        else:
            return value
        return ""

    def texts(self, section: Section, key: str) -> tuple[str, ...]:
        """Return the texts of a list, none if it is not there."""
        parts = self.parts(section, key, required=False)
        if len(parts) > MOST_TEXTS:
            self.faults.add(section.where, f"{key} has more than {MOST_TEXTS:,} entries")
            return ()
        return tuple(
            self.text(Section({f"{key} {n}": part}, part.where), f"{key} {n}")
            for n, part in enumerate(parts, start=1)
        )

    def parts(self, section: Section, key: str, *, required: bool = True) -> tuple[Located, ...]:
        """Return what a list holds, noting it where there is no list."""
        written = section.entries.get(key)
        if isinstance(written, Listing) and (written.parts or not required):
            return written.parts
        if written is not None or (required and not section.is_stand_in):
            where = written.where if written else section.where
            self.faults.add(where, f"{key} is not a list, or is empty")
        return ()

    def code(self, section: Section, what: str) -> str:
        """Return a phase's or item's own code: letters and digits."""
        value = self.text(section, "code")
        if value and not _CODE.fullmatch(value):
            self.faults.add(
                section.entries["code"].where,
                f"{what} code {quoted(value)} is not letters and digits",
                "write up to 12 of them, such as 010 or 3A",
            )
        return value

    def day(self, section: Section, key: str, what: str) -> date | None:
        """Return a day, None if it is not there or no day; `what` it is, for the fault."""
        text = self.text(section, key, required=False)
        if not text:
            return None
        try:
            day = date.fromisoformat(text)
        except ValueError:
            day = None
        where = section.entries[key].where
        if day is None:
            self.faults.add(where, f"{key} {quoted(text)} is not {what}", day_remedy(text))
        elif not EARLIEST <= day <= LATEST:
            self.faults.add(where, f"{key} {quoted(text)} is out of range", WITHIN)
            return None
        return day

    def measured(
        self, section: Section, key: str, wanted: Unit, *, required: bool = False
    ) -> Measure | None:
        """Return a measure of the wanted kind, None if it is not there or has a fault."""
        text = self.text(section, key, required=required)
        if not text:
            return None
        where = section.entries[key].where
        return self.tried(where, key, read_measure, text, wanted)

    def count(self, section: Section, key: str, usual: int) -> int:
        """Return a whole number from 1; the usual one if it is not there."""
        text = self.text(section, key, required=False)
        if not text:
            return usual
        if text.isascii() and text.isdigit() and len(text) <= 6 and int(text) > 0:
            return int(text)
        where = section.entries[key].where
        self.faults.add(where, f"{key} {quoted(text)} is not a whole number from 1", "write 2")
        return usual

    def known(self, section: Section, key: str, usual: str, names: Collection[str]) -> str:
        """Return one of the known names; the usual one if it is not there or unknown."""
        name = self.text(section, key, required=False)
        if not name or name in names:
            return name or usual
        where = section.entries[key].where
        self.faults.add(where, f"unknown {key} {quoted(name)}", did_you_mean(name, names))
        return usual

    def tried(
        self, where: str, what: str, read: Callable[..., Result], *arguments: object
    ) -> Result | None:
        """Return the value read from an entry, or None with its faults noted."""
        try:
            return read(*arguments)
        except InputFaulty as error:
            self.faults.take(f"{where}, {what}" if what else where, error)
            return None
