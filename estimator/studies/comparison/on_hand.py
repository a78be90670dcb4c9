"""What has come for the work that is done and is not used up: whole loads, boxes, blades."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.assemblies.needs import line_need
from estimator.assemblies.ordering import order_of
from estimator.production.crews import is_time
from estimator.studies.comparison.method_prices import working_values
from estimator.studies.comparison.prepared_method import PreparedMethod

Values = npt.NDArray[np.float64]

# What stays on the site once it has come; people and machines are paid by their time.
LASTING_KINDS = ("material", "consumable", "haul", "disposal")


@dataclass(frozen=True)
class OnHand:
    """What is there of a resource.

    Parameters
    ----------
    code, name : str
        The resource.
    quantity : float
        In its unit, above zero.
    unit : str
        Of the quantity.
    """

    code: str
    name: str
    quantity: float
    unit: str


def on_hand(prepared: PreparedMethod, measure: str, share: float) -> tuple[OnHand, ...]:
    """Return what has come for a share of a method's work and is still to be used.

    Parameters
    ----------
    prepared : PreparedMethod
        The method that has done the share.
    measure : str
        The input that its quantity is in proportion to.
    share : float
        Of the whole work, above 0 and below 1.

    Notes
    -----
    What was ordered for the share, less what the rest needs less than the whole. So the loads that
    came and the loads of the rest together are the loads of the whole, and what is needed once is
    not bought twice.
    """
    done, rest, whole = (_values(prepared, measure, part) for part in (share, 1.0 - share, 1.0))
    there: dict[str, OnHand] = {}
    for one in prepared.lines:
        if one.rate.kind not in LASTING_KINDS or is_time(one.rate.unit):
            continue
        per = one.rate.unit
        ordered = order_of(line_need(one.line, done, per, 1), one.decimals).ordered
        used = sum(
            sign * line_need(one.line, values, per, 1).with_waste[0]
            for sign, values in ((1.0, whole), (-1.0, rest))
        )
        left = float(ordered[0]) / 10.0**one.decimals - float(used)
        if left >= 10.0**-one.decimals:
            before = there[one.rate.code].quantity if one.rate.code in there else 0.0
            there[one.rate.code] = OnHand(
                one.rate.code, one.rate.name, before + left, one.rate.unit.name
            )
    return tuple(there.values())


def _values(prepared: PreparedMethod, measure: str, share: float) -> Mapping[str, Values]:
    return working_values(prepared, {**prepared.inputs, measure: prepared.inputs[measure] * share})
