"""A printed estimate with what the books look at: items, lines and rates."""

from datetime import date
from decimal import Decimal

from estimator.pricing.cost_line import CostLine
from estimator.pricing.printed_estimate import PrintedEstimate, PrintedItem
from estimator.quantity.units import unit
from estimator.rates.resources import ResourceRate
from estimator.rates.rows import Origin

SPRING = date(2026, 3, 2)
_NOTHING = Decimal(0)


def printed(items=(), lines=(), rates=()) -> PrintedEstimate:
    words = ("made_with", "project", "shift", "digest", "scope_digest", "tables_digest",
             "lines_digest")  # fmt: skip
    sums = ("direct_cost", "cash_cost", "own_value", "full_cost")
    groups = ("by_kind", "by_element", "by_credit", "labor_hours", "machine_days",
              "machine_hours", "planning_quantities", "decimals")  # fmt: skip
    lists = ("sets", "markups", "phases", "warnings", "cautions", "assumptions")
    return PrintedEstimate(
        on=SPRING, items=tuple(items), lines=tuple(lines), rates=tuple(rates),
        **dict.fromkeys(words, ""), **dict.fromkeys(sums, _NOTHING),
        **{name: {} for name in groups}, **dict.fromkeys(lists, ()),
    )  # fmt: skip


def work(code: str, quantity: str, unit_name: str) -> PrintedItem:
    return PrintedItem(
        code, "Work", "made", Decimal(quantity), unit_name, "crew", _NOTHING, "", "ask", "",
        _NOTHING, _NOTHING,
    )  # fmt: skip


def line(code: str, resource: str, kind: str, unit_name: str, ordered: int, cents: int, **more):
    """Return a line without decimals, all of it needed unless it says otherwise."""
    fields = {
        "phase": code.partition(".")[0], "item": code, "line": 1, "assembly": "made",
        "resource": resource, "name": resource, "kind": kind, "unit": unit_name, "decimals": 0,
        "net": ordered, "waste": 0, "left_over": 0, "ordered": ordered, "rate": 0,
        "source": "made up", "rate_row": "made", "is_paid": True, "cents": cents,
    } | more  # fmt: skip
    return CostLine(**fields)


def rate(code: str, kind: str, unit_name: str, dollars: str, low=None, high=None) -> ResourceRate:
    ends = [None if one is None else Decimal(one) for one in (low, high)]
    return ResourceRate(
        code=code, name=code, kind=kind, unit=unit(unit_name), rate=Decimal(dollars), low=ends[0],
        high=ends[1], set_on=SPRING, valid_until=None, is_paid=True, source="made up", note="",
        origin=Origin("made", "resources.csv", 2),
    )  # fmt: skip
