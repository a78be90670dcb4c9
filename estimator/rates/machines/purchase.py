"""What an owned machine is worth when it starts work: list price, discount, tax, freight."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import EquipmentFaulty
from estimator.money import exact_arithmetic, rounded
from estimator.rates.exact_inputs import Exact, exact_inputs


@exact_inputs(
    EquipmentFaulty, positive=("list_price",), fractions=("discount_fraction", "tax_fraction"),
    list_price="$", discount_fraction="fraction", tax_fraction="fraction",
    shipping_weight_cwt="cwt", freight_per_cwt="$/cwt",
)  # fmt: skip
@dataclass(frozen=True)
class PurchaseTerms:
    """How a machine is bought.

    Parameters
    ----------
    list_price : Decimal [$]
        With accessories.
    discount_fraction : Decimal [$ per $ of the list price]
        Taken off before tax.
    tax_fraction : Decimal [$ per $ of the discounted price]
        Sales or use tax.
    shipping_weight_cwt : Decimal [hundredweight of 100 lb]
        As it is shipped.
    freight_per_cwt : Decimal [$ per hundredweight]
        To the yard.
    """

    list_price: Exact
    discount_fraction: Exact = Decimal(0)
    tax_fraction: Exact = Decimal(0)
    shipping_weight_cwt: Exact = Decimal(0)
    freight_per_cwt: Exact = Decimal(0)


@exact_arithmetic
@dataclass(frozen=True)
class EquipmentValue:
    """The lines of a machine's value, each in whole dollars [$]."""

    list_price: Decimal
    discount: Decimal
    tax: Decimal
    freight: Decimal

    @property
    def total(self) -> Decimal:
        """List price less discount, with tax and freight [$]."""
        return self.list_price - self.discount + self.tax + self.freight


@exact_arithmetic
def equipment_value(terms: PurchaseTerms) -> EquipmentValue:
    """Return the value of a machine, each line rounded half-up to the dollar before the next.

    Parameters
    ----------
    terms : PurchaseTerms
        Price, discount, tax, weight and freight.

    Notes
    -----
    The tax is on the discounted price as it was rounded. Rounding the total only gives a dollar
    more or less.

    References
    ----------
    USACE EP 1110-1-8 (2003), ch. 2, section IV, and Figure 2-1, part 2.

    Examples
    --------
    >>> terms = PurchaseTerms(
    ...     Decimal(1197389), Decimal("0.075"), Decimal("0.058"), Decimal(1913), Decimal("5.27")
    ... )
    >>> equipment_value(terms).total
    Decimal('1181907')
    """
    list_price = _dollar(terms.list_price)
    discount = _dollar(list_price * terms.discount_fraction)
    return EquipmentValue(
        list_price=list_price,
        discount=discount,
        tax=_dollar((list_price - discount) * terms.tax_fraction),
        freight=_dollar(terms.shipping_weight_cwt * terms.freight_per_cwt),
    )


def _dollar(amount: Decimal) -> Decimal:
    return rounded(amount, 0)
