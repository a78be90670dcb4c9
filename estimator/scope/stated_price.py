"""A price that stands in the scope: a subcontract quote, a lump sum or an allowance."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property

from estimator.assemblies.assembly import Assembly, AssemblyLine
from estimator.quantity.formulas import read_formula
from estimator.quantity.units import unit
from estimator.rates.resources import ResourceRate
from estimator.rates.rows import Origin
from estimator.scope.input_value import InputValue

SUBCONTRACT, LUMP_SUM, ALLOWANCE = "subcontract", "lump_sum", "allowance"

# The forms, each in words.
FORMS: Mapping[str, str] = {
    SUBCONTRACT: "Subcontract quote",
    LUMP_SUM: "Lump sum",
    ALLOWANCE: "Allowance",
}

_ONE = read_formula("1")


@dataclass(frozen=True)
class StatedPrice:
    """The price of an item as a sum.

    Parameters
    ----------
    form : str
        One of `FORMS`.
    amount : Decimal
        [$] In whole cents; negative where an alternate takes it from the base.
    kind : str
        The kind of cost: `subcontract`, or as stated.
    credit : str
        Whether it counts toward the rehabilitation credit: `yes`, `no`, `ask`.
    days : InputValue or None
        [working day] How long the work takes; None where nobody said: it then takes none.
    firm : str
        Who quoted it; empty where nobody did.
    set_on, valid_until : date or None
        The day of the quote, and the last day on which it holds.
    includes, excludes : tuple of str
        What the price covers, and what not.
    attachment : str
        Name of the file with the quote.
    source : str
        Where a sum without a quote comes from.
    """

    form: str
    amount: Decimal
    kind: str
    credit: str = "ask"
    days: InputValue | None = None
    firm: str = ""
    set_on: date | None = None
    valid_until: date | None = None
    includes: tuple[str, ...] = ()
    excludes: tuple[str, ...] = ()
    attachment: str = ""
    source: str = ""

    @cached_property
    def assembly(self) -> Assembly:
        """The assembly that stands for it: one lump sum, without inputs, crew and lines."""
        return Assembly(
            code=f"stated {self.form.replace('_', ' ')}", name=FORMS[self.form], unit=unit("ls"),
            quantity=_ONE, crew="", element="", credit=self.credit, cautions=(), inputs=(),
            lines=(), source="", origin=Origin("scope", "", 0),
        )  # fmt: skip

    def line(self, item_code: str) -> AssemblyLine:
        """Return the line of the sum, ordered once."""
        code, origin = self._code(item_code), _origin(item_code)
        return AssemblyLine(code, _ONE, None, None, None, "item", is_crew=False, origin=origin)

    def rate(self, item_code: str, on: date) -> ResourceRate:
        """Return the sum as the rate of one lump sum, on a pricing date."""
        return ResourceRate(
            code=self._code(item_code), name=self.name, kind=self.kind, unit=unit("ls"),
            rate=self.amount, low=None, high=None, set_on=self.set_on or on,
            valid_until=self.valid_until, is_paid=True, source=self.source_words,
            note=self.note, origin=_origin(item_code), form=self.form,
        )  # fmt: skip

    @property
    def name(self) -> str:
        """What a line of it is called."""
        return f"{FORMS[self.form]}, {self.firm}" if self.firm else FORMS[self.form]

    @property
    def source_words(self) -> str:
        """Where the sum comes from, in words."""
        if self.firm:
            return f"quote of {self.firm}, {self.set_on}"
        return self.source or f"{FORMS[self.form].lower()} stated in the scope"

    @property
    def note(self) -> str:
        """What the price covers, and the file that says so."""
        words = [
            f"{word} {', '.join(parts)}"
            for word, parts in (("includes", self.includes), ("excludes", self.excludes))
            if parts
        ]
        return "; ".join(words + ([f"attached: {self.attachment}"] if self.attachment else []))

    def _code(self, item_code: str) -> str:
        return f"{self.form.replace('_', '-')}-{item_code}"


def _origin(item_code: str) -> Origin:
    return Origin("scope item", item_code, 0)
