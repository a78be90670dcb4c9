"""Reading the price that an item states in place of an assembly; every fault at its place."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimator.assemblies.assembly import CREDIT_ANSWERS
from estimator.errors import Faults, quoted
from estimator.money import dollars
from estimator.quantity.units import unit
from estimator.rates.kinds import COSTS
from estimator.scope.input_value import InputValue
from estimator.scope.located import Section
from estimator.scope.located_reader import LocatedReader
from estimator.scope.stated_price import FORMS, SUBCONTRACT, StatedPrice

DEDUCT = "deduct"
LARGEST_AMOUNT = 1_000_000_000

_COMMON = ("amount", DEDUCT, "days", "credit")
_KEYS = {
    SUBCONTRACT: (
        "firm", "date", "valid_until", *_COMMON, "includes", "excludes", "attachment",
    ),
}  # fmt: skip
_KEYS_OF_SUMS = (*_COMMON, "kind", "source")
# What describes the work of an assembly, and has no meaning beside a stated price.
_OF_ASSEMBLIES = ("assembly", "inputs", "crew", "delays", "level", "opening", "methods", "method")


def stated_form(section: Section) -> str:
    """Return the key under which an item states its price; empty where it names an assembly."""
    return next((form for form in FORMS if form in section.entries), "")


def read_stated_price(
    section: Section, code: str, faults: Faults, *, is_alternate: bool
) -> StatedPrice | None:
    """Return the price that an item states; None if it states none, or one with faults.

    Parameters
    ----------
    section : Section
        The item.
    code : str
        The item's cost code.
    faults : Faults
        Where faults are noted.
    is_alternate : bool
        Whether the item belongs to an alternate, which alone may deduct.
    """
    form = stated_form(section)
    if not form:
        return None
    known = len(faults.entries)
    reader = _PriceReader(faults)
    reader.check_alone(section, code, form)
    price = reader.price(section, form, code, is_alternate=is_alternate)
    return price if len(faults.entries) == known else None


class _PriceReader(LocatedReader):
    def check_alone(self, section: Section, code: str, form: str) -> None:
        """Note what stands beside a stated price and would say something else."""
        for key in (*_OF_ASSEMBLIES, *FORMS):
            if key in section.entries and key != form:
                self.faults.add(
                    section.entries[key].where,
                    f"item {code} has both {form} and {key}",
                    "keep one of them: an item has one price",
                )

    def price(self, section: Section, form: str, code: str, *, is_alternate: bool) -> StatedPrice:
        keys = _KEYS.get(form, _KEYS_OF_SUMS)
        stated = self.section(section.entries[form], form, keys)
        amount = self.amount(stated, code, is_alternate=is_alternate)
        if form != SUBCONTRACT:
            return StatedPrice(
                form, amount, self.known(stated, "kind", SUBCONTRACT, COSTS),
                self.credit(stated), self.days(stated),
                source=self.text(stated, "source", required=False),
            )  # fmt: skip
        quoted_on = self.needed_day(stated, "date", "the day of the quote")
        until = self.needed_day(stated, "valid_until", "the last day on which the quote holds")
        if quoted_on and until and until < quoted_on:
            where = stated.entries["valid_until"].where
            self.faults.add(where, f"valid_until {until} is before the date {quoted_on}")
        return StatedPrice(
            form, amount, SUBCONTRACT, self.credit(stated), self.days(stated),
            firm=self.text(stated, "firm"), set_on=quoted_on, valid_until=until,
            includes=self.texts(stated, "includes"), excludes=self.texts(stated, "excludes"),
            attachment=self.attachment(stated),
        )  # fmt: skip

    def amount(self, stated: Section, code: str, *, is_alternate: bool) -> Decimal:
        """Return [$] the sum; negative under `deduct`."""
        written = [key for key in ("amount", DEDUCT) if key in stated.entries]
        if len(written) != 1:
            what = "both amount and deduct" if written else "no amount"
            self.faults.add(stated.where, f"item {code} gives {what}", 'write amount: "$18,400"')
            return Decimal(0)
        key = written[0]
        if key == DEDUCT and not is_alternate:
            where = stated.entries[key].where
            what = f"item {code} deducts a sum and belongs to no alternate"
            self.faults.add(where, what, "name its alternate, as in alternate: A1")
        measure = self.measured(stated, key, unit("$"), required=True)
        if measure is None:
            return Decimal(0)
        cents, where = measure.value * measure.unit.factor * 100, stated.entries[key].where
        if cents.denominator != 1:
            self.faults.add(where, f"{key} {quoted(measure.text)} is not in whole cents")
        elif not 0 < cents <= LARGEST_AMOUNT * 100:
            self.faults.add(
                where, f"{key} {quoted(measure.text)} is not above 0 and at most $1,000,000,000"
            )
        else:
            return dollars(int(cents) * (-1 if key == DEDUCT else 1))
        return Decimal(0)

    def needed_day(self, stated: Section, key: str, what: str) -> date | None:
        if not self.text(stated, key, required=False):
            self.faults.add(
                stated.where,
                f"{key}, {what}, is missing",
                "ask the firm, or write the sum as a lump_sum",
            )
            return None
        return self.day(stated, key, what)

    def days(self, stated: Section) -> InputValue | None:
        measure = self.measured(stated, "days", unit("day"))
        if measure is None:
            return None
        if not 0 < measure.value * measure.unit.factor <= 1000:
            where = stated.entries["days"].where
            self.faults.add(where, f"days {quoted(measure.text)} is not above 0 and at most 1,000")
        return InputValue(measure.value * measure.unit.factor, measure.text)

    def credit(self, stated: Section) -> str:
        return self.known(stated, "credit", "ask", CREDIT_ANSWERS)

    def attachment(self, stated: Section) -> str:
        """Return the plain name of a file; nothing is opened."""
        name = self.text(stated, "attachment", required=False)
        if "/" in name or "\\" in name:
            where = stated.entries["attachment"].where
            self.faults.add(where, f"attachment {quoted(name)} is not the plain name of a file")
        return name
