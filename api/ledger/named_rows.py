"""What a typed entry names (a bill, tickets, a machine) as the rows of the books that it means."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from api.ledger.desk import party_key
from api.ledger.import_desk import ImportDesk
from estimator.errors import Faults, LedgerFaulty, fault, quoted
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.machines_on_rent import OnRent
from estimator.tracking.tickets import Ticket, standing

Body = dict[str, Any]


def with_rows_named(desk: ImportDesk, kind: str, body: Body) -> Body:
    """Return the body of an entry with numbers of rows in place of the names in it.

    Parameters
    ----------
    desk : Desk
        The books, with the entries that were posted before it.
    kind : str
        Name of its list in `Books`.
    body : dict
        As it was typed: a payment names vendor and document, a bill its tickets and machines, a
        call-off machine and vendor.

    Raises
    ------
    LedgerFaulty
        If there is no row of that name, or more than one.
    """
    naming = _NAMING.get(kind)
    return body if naming is None else naming(desk, dict(body))


def _cost(desk: ImportDesk, body: Body) -> Body:
    faults = Faults()
    vendor = body.get("vendor", "")
    if names := body.get("tickets"):
        tickets = desk.at_hand("tickets", Ticket, vendor)
        keys = map(party_key, names)
        numbers = {key: row for key in keys for row in standing(tickets.alike(_number, key))}
        body["tickets"] = _rows(names, numbers, "tickets", f"no ticket of {quoted(vendor)}", faults)
    if names := body.get("rents"):
        # of several rents of a machine the last that began counts
        machines = {party_key(one.machine): one.row for one in _rents(desk, vendor)}
        body["rents"] = _rows(names, machines, "rents", f"not rented from {quoted(vendor)}", faults)
    faults.raise_if_any(LedgerFaulty)
    return body


def _number(ticket: Ticket) -> str:
    return party_key(ticket.number)


def _document(cost: Cost) -> str:
    return cost.document.casefold()


def _rows(
    names: list[str], rows: Mapping[str, int], where: str, what: str, faults: Faults
) -> list[int]:
    keys = {name: party_key(name) for name in names}
    for name, key in keys.items():
        if key not in rows:
            faults.add(where, f"{quoted(name)} is {what}", "post it first, or correct the name")
    return [rows[key] for key in keys.values() if key in rows]


def _rents(desk: ImportDesk, vendor: str) -> list[OnRent]:
    rents = desk.rows("rents", OnRent, vendor)
    live = set(standing(rents))
    return sorted((one for one in rents if one.row in live), key=lambda one: one.happened)


def _payment(desk: ImportDesk, body: Body) -> Body:
    vendor, document = body.pop("vendor", ""), body.pop("document", "")
    row = body.pop("cost_row", None)
    if row is None:
        return body | {"cost": _bill_of(desk, vendor, document)}
    bill = desk.row_numbered("costs", Cost, row) if isinstance(row, int) else None
    if bill is not None and party_key(bill.vendor) != party_key(vendor):
        what = f"row {row} is a bill from {quoted(bill.vendor)}"
        raise fault(LedgerFaulty, what, "correct the row or the vendor", "cost_row")
    return body | {"cost": row}


def _bill_of(desk: ImportDesk, vendor: str, document: str) -> int:
    if not document:
        what, remedy = "names no bill", "write its document, or its row in the books"
        raise fault(LedgerFaulty, what, remedy, "vendor")
    own = standing(desk.at_hand("costs", Cost, vendor).alike(_document, document.casefold()))
    if not own:
        what = f"there is no bill {quoted(document)} from {quoted(vendor)}"
        raise fault(LedgerFaulty, what, "post the bill first, or correct the name", "document")
    if len(own) > 1:
        rows = ", ".join(map(str, own))
        what = f"{quoted(document)} is a bill in rows {rows}"
        raise fault(LedgerFaulty, what, "write which one under cost row", "document")
    return own[0]


def _call_off(desk: ImportDesk, body: Body) -> Body:
    machine, vendor = body.pop("machine", ""), body.pop("vendor", "")
    key, day = party_key(machine), body.get("happened", "")
    rents = [one for one in _rents(desk, vendor) if party_key(one.machine) == key]
    begun = [one.row for one in rents if one.happened.isoformat() <= day]
    if not begun:
        by = f" by {day}" if day else ""
        what = f"{quoted(machine)} from {quoted(vendor)} is not on rent{by}"
        raise fault(LedgerFaulty, what, "post the rent first, or correct the name", "machine")
    return body | {"rent": begun[-1]}


def _change(desk: ImportDesk, body: Body) -> Body:
    """Refuse a part without a kind: on a sheet it would be spread, and not be known again."""
    faults = Faults()
    for place, part in enumerate(body.get("parts", [])):
        known = desk.budget.get(part.get("code", ""))
        if not part.get("kind") and (known is None or known.phase):
            faults.add(f"#/parts/{place}/kind", "names no kind of cost", "write a row for each")
    faults.raise_if_any(LedgerFaulty)
    return body


_NAMING: Mapping[str, Callable[[ImportDesk, Body], Body]] = {
    "costs": _cost,
    "payments": _payment,
    "called_off": _call_off,
    "changes": _change,
}
