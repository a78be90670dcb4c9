"""An estimate as JSON: a stable form for other programs, described in docs/estimate-json.md.

Money and quantities are decimal strings; keys stand in a fixed order; the same estimate gives the
same bytes. What was printed once can be read again as it was, without its scope and its tables.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from datetime import date
from decimal import Decimal
from typing import Any

from estimator.assemblies.cautions import Caution
from estimator.assemblies.markups import Markup, MarkupAmount
from estimator.money import dollars, exact_arithmetic, to_cents
from estimator.pricing.alternate_totals import AlternateTotal
from estimator.pricing.cost_line import line_fields, line_from_fields
from estimator.pricing.estimate import CautionNote, Estimate
from estimator.pricing.indented_json import indented_json
from estimator.pricing.own_material import own_material_fields, own_material_from_fields
from estimator.pricing.printed_estimate import (
    PrintedEstimate,
    PrintedItem,
    PrintedPhase,
    printed_estimate,
)
from estimator.pricing.rests_on import RestsOn
from estimator.quantity.units import unit
from estimator.rates.resources import ResourceRate
from estimator.rates.rows import Origin
from estimator.scope.title_block import TitleBlock

FORM = 1
_TOTALS = ("direct_cost", "cash_cost", "own_value", "full_cost", "salvage_sales")
_GROUNDED = ("direct_cost", "markups", "cash_cost", "own_value", "full_cost")
_AMOUNTS = (
    "by_kind", "by_element", "by_credit", "labor_hours", "machine_days", "machine_hours",
    "planning_quantities",
)  # fmt: skip
_AS_IN_JSON = (
    "made_with",
    "project",
    "shift",
    "digest",
    "scope_digest",
    "lines_digest",
    "decimals",
)
_DECIMALS = ("quantity", "crew_hours", "cash", "own")


def estimate_json(estimate: Estimate, risk: Mapping[str, Any] | None = None) -> str:
    """Return an estimate as JSON text with two-space indentation and a final newline.

    Parameters
    ----------
    estimate : Estimate
        What is written.
    risk : mapping or None
        How sure it is, from `risk_fields`; under the key `risk`.
    """
    fields = estimate_fields(estimate) | ({} if risk is None else {"risk": risk})
    return indented_json(fields) + "\n"


@exact_arithmetic
def estimate_fields(estimate: Estimate) -> dict[str, Any]:
    """Return an estimate as plain dictionaries, lists and strings."""
    printed = printed_estimate(estimate)
    amounts = {name: _texts(getattr(printed, name)) for name in _AMOUNTS}
    return {
        "form": FORM,
        "made_with": printed.made_with,
        "project": printed.project,
        "title_block": {key: text for key, text in asdict(printed.title_block).items() if text},
        "on": printed.on.isoformat(),
        "shift": printed.shift,
        "digest": printed.digest,
        "scope_digest": printed.scope_digest,
        "lines_digest": printed.lines_digest,
        "tables": {"sets": list(printed.sets), "digest": printed.tables_digest},
        "totals": _texts({name: getattr(printed, name) for name in _TOTALS}),
        "rests_on": grounds_fields(estimate.rests_on),
        "alternates": [_alternate(one) for one in printed.alternates],
        "markups": [_markup(one) for one in printed.markups],
        "by_phase": [_named(one) for one in printed.phases],
        **amounts,
        "items": [_named(one) for one in printed.items],
        "lines": [line_fields(one) for one in printed.lines],
        "rates": [_rate(one) for one in printed.rates],
        "decimals": dict(printed.decimals),
        "own_material": [own_material_fields(one) for one in printed.own_material],
        "warnings": list(printed.warnings),
        "cautions": [_caution(note) for note in printed.cautions],
        "assumptions": list(printed.assumptions),
    }


def estimate_from_json(text: str) -> PrintedEstimate:
    """Return what `estimate_json` printed, as it was printed; nothing is worked out.

    Parameters
    ----------
    text : str
        Of our own making: it is not checked. What others send is read by `compared_from_json`.

    Raises
    ------
    KeyError, ValueError
        If it is something else, or was printed before all was in it that is printed now.
    """
    fields = json.loads(text)
    items = tuple(PrintedItem(**_numbers(one)) for one in fields["items"])
    assemblies = {one.item: one.assembly for one in items}
    as_printed: dict[str, Any] = {name: fields[name] for name in _AS_IN_JSON}
    as_printed |= _read(fields["totals"])
    as_printed |= {name: _read(fields[name]) for name in _AMOUNTS}
    return PrintedEstimate(
        on=date.fromisoformat(fields["on"]),
        tables_digest=fields["tables"]["digest"],
        sets=tuple(fields["tables"]["sets"]),
        markups=tuple(_read_markup(one) for one in fields["markups"]),
        phases=tuple(PrintedPhase(**_numbers(one)) for one in fields["by_phase"]),
        items=items,
        lines=tuple(line_from_fields(one, assemblies[one["item"]]) for one in fields["lines"]),
        rates=tuple(_read_rate(one) for one in fields["rates"]),
        cautions=tuple(_read_caution(one) for one in fields["cautions"]),
        warnings=tuple(fields["warnings"]),
        assumptions=tuple(fields["assumptions"]),
        title_block=TitleBlock(**fields.get("title_block", {})),
        alternates=tuple(_read_alternate(one) for one in fields.get("alternates", ())),
        own_material=tuple(map(own_material_from_fields, fields.get("own_material", ()))),
        rests_on=_read_rests_on(fields["rests_on"]) if "rests_on" in fields else None,
        **as_printed,
    )


def _read(amounts: Mapping[str, str]) -> dict[str, Decimal]:
    return {name: Decimal(amount) for name, amount in amounts.items()}


def _texts(amounts: Mapping[str, Decimal]) -> dict[str, str]:
    return {name: f"{amount:f}" for name, amount in amounts.items()}


def _named(one: PrintedItem | PrintedPhase) -> dict[str, str]:
    fields = one._asdict()
    return fields | _texts({name: fields[name] for name in _DECIMALS if name in fields})


def _numbers(fields: Mapping[str, str]) -> dict[str, Any]:
    return {**fields} | {name: Decimal(fields[name]) for name in _DECIMALS if name in fields}


def _text(number: Decimal | None) -> str | None:
    return None if number is None else f"{number:f}"


def _number(text: str | None) -> Decimal | None:
    return None if text is None else Decimal(text)


def _markup(one: MarkupAmount) -> dict[str, Any]:
    return {
        "code": one.markup.code,
        "name": one.markup.name,
        "order": one.markup.order,
        "percent": _text(one.markup.percent),
        "on": list(one.markup.on),
        "source": one.markup.source,
        "row": str(one.markup.origin),
        "base": f"{dollars(one.base_cents):f}",
        "amount": f"{dollars(one.amount_cents):f}",
    }


def _read_markup(fields: Mapping[str, Any]) -> MarkupAmount:
    percent, amount = _number(fields["percent"]), Decimal(fields["amount"])
    markup = Markup(
        code=fields["code"],
        name=fields["name"],
        order=fields["order"],
        percent=percent,
        fixed_sum=amount if percent is None else None,
        on=tuple(fields["on"]),
        source=fields["source"],
        origin=Origin.read(fields["row"]),
    )
    return MarkupAmount(markup, to_cents(Decimal(fields["base"])), to_cents(amount))


def _rate(rate: ResourceRate) -> dict[str, Any]:
    return {
        "resource": rate.code,
        "name": rate.name,
        "kind": rate.kind,
        "unit": rate.unit.name,
        "rate": f"{rate.rate:f}",
        "low": _text(rate.low),
        "high": _text(rate.high),
        "date": rate.set_on.isoformat(),
        "valid_until": None if rate.valid_until is None else rate.valid_until.isoformat(),
        "paid": rate.is_paid,
        "source": rate.source,
        "note": rate.note,
        "row": str(rate.origin),
    } | ({"form": rate.form} if rate.form else {})


def _read_rate(fields: Mapping[str, Any]) -> ResourceRate:
    until = fields["valid_until"]
    return ResourceRate(
        code=fields["resource"],
        name=fields["name"],
        kind=fields["kind"],
        unit=unit(fields["unit"]),
        rate=Decimal(fields["rate"]),
        low=_number(fields["low"]),
        high=_number(fields["high"]),
        set_on=date.fromisoformat(fields["date"]),
        valid_until=None if until is None else date.fromisoformat(until),
        is_paid=fields["paid"],
        source=fields["source"],
        note=fields["note"],
        origin=Origin.read(fields["row"]),
        form=fields.get("form", ""),
    )


def _alternate(one: AlternateTotal) -> dict[str, Any]:
    return one._asdict() | {
        "in_place_of": list(one.in_place_of),
        "without": f"{one.without:f}",
        "with_it": f"{one.with_it:f}",
        "change": f"{one.change:f}",
    }


def _read_alternate(fields: Mapping[str, Any]) -> AlternateTotal:
    return AlternateTotal(
        fields["code"], fields["name"], fields["accepted"], tuple(fields["in_place_of"]),
        Decimal(fields["without"]), Decimal(fields["with_it"]),
    )  # fmt: skip


def grounds_fields(grounds: RestsOn) -> dict[str, Any]:
    """Return what totals rest on as dictionaries, lists and strings."""
    return {
        **{name: _texts(getattr(grounds, name)) for name in _GROUNDED},
        "by_phase": {code: _texts(amounts) for code, amounts in grounds.by_phase.items()},
        "statements": list(grounds.statements),
    }


def _read_rests_on(fields: Mapping[str, Any]) -> RestsOn:
    return RestsOn(
        **{name: _read(fields[name]) for name in _GROUNDED},
        by_phase={code: _read(amounts) for code, amounts in fields["by_phase"].items()},
        statements=tuple(fields["statements"]),
    )


def _caution(note: CautionNote) -> dict[str, Any]:
    return {
        "code": note.caution.code,
        "caution": note.caution.caution,
        "defer_to": note.caution.defer_to,
        "source": note.caution.source,
        "row": str(note.caution.origin),
        "items": list(note.items),
    }


def _read_caution(fields: Mapping[str, Any]) -> CautionNote:
    caution = Caution(
        fields["code"], fields["caution"], fields["defer_to"], fields["source"],
        Origin.read(fields["row"]),
    )  # fmt: skip
    return CautionNote(caution, tuple(fields["items"]))
