"""An estimate on the terminal: items by phase, what to plan for, cautions, warnings, totals."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from api.commands.cautions_shown import show_cautions
from api.commands.printing import hanging, page, sentences, show_table, table
from api.commands.risk_shown import show_risk
from estimator.money import dollars, money_text
from estimator.quantity.units import counted
from estimator.rates.kinds import SALES_WORDS

if TYPE_CHECKING:
    from rich.console import Console

    from estimator.pricing.alternate_totals import AlternateTotal
    from estimator.pricing.estimate import CautionNote, Estimate
    from estimator.pricing.explain import Explanation
    from estimator.pricing.rests_on import RestsOn
    from estimator.studies.risk.job_risk import JobRisk

_DIGEST_SHOWN = 12


def show_estimate(estimate: Estimate, risk: JobRisk | None = None) -> None:
    """Print an estimate: its figures, how sure they are, then what is to be read with them."""
    from estimator.pricing import summaries

    with page() as out:
        out.print(f"{estimate.scope.project}, priced at the rates of {estimate.on}")
        for label, text in estimate.scope.title_block.lines:
            hanging(out, f"{label}: ", "  ", text)
        out.print()
        _show_items(out, estimate)
        _show_amounts(out, "Cash, by kind", summaries.cash_by_kind(estimate))
        _show_amounts(out, "Counts toward the tax credit", _credit_words(estimate))
        _show_quantities(out, "Labor", "hr", summaries.labor_hours(estimate))
        _show_quantities(out, "Machines", "days", summaries.machine_days(estimate))
        _show_quantities(out, "Machines", "hr", summaries.machine_hours(estimate))
        _show_quantities(out, "Bulk quantities", "", summaries.planning_quantities(estimate))
        _show_own_material(out, estimate)
        _show_totals(out, estimate)
        if risk is not None:
            show_risk(out, risk)
        sentences(out, "Warnings", estimate.warnings)
        sentences(out, "Assumptions", estimate.scope.assumptions)
        _show_cautions(out, estimate.cautions)
        _show_end(out, estimate)


def show_working(estimate: Estimate, item_code: str, workings: Iterable[Explanation]) -> None:
    """Print the working of lines of an item, with the cautions that belong to it."""
    item = next(one for one in estimate.scope.items if one.code == item_code)
    row = estimate.items[estimate.items["item"] == item_code].iloc[0]
    with page() as out:
        assembly = item.method.assembly
        out.print(f"{item.code} {item.name}: {assembly.name} ({assembly.code})")
        quantity = counted(f"{row['quantity']:,.{row['decimals']}f}", row["unit"])
        out.print(
            f"{quantity}, "
            f"{money_text(dollars(row['cash_cents']))} cash, "
            f"{money_text(dollars(row['own_cents']))} unpaid value"
        )
        for working in workings:
            out.print(f"\n{working.title}")
            for step in working.steps:
                hanging(out, "  ", "    ", step)
        notes = [note for note in estimate.cautions if item_code in note.items]
        _show_cautions(out, notes, item_code)


def _show_items(out: Console, estimate: Estimate) -> None:
    from rich.text import Text

    from estimator.pricing.summaries import cash_by_phase, own_by_phase

    shown = table(
        ("Code", "code"), ("Work", "text"), ("Quantity", "number"), ("Cash $", "number"),
        ("Unpaid $", "number"),
    )  # fmt: skip
    cash, own = cash_by_phase(estimate), own_by_phase(estimate)
    for phase in estimate.scope.phases:
        shown.add_row(
            Text(phase.code, "bold"), Text(phase.name, "bold"), "",
            Text(_amount(cash[phase.code]), "bold"), Text(_amount(own[phase.code]), "bold"),
        )  # fmt: skip
        rows = estimate.items[estimate.items["phase"] == phase.code]
        for row in rows.to_dict("records"):
            shown.add_row(
                row["item"],
                Text(row["name"]),
                counted(f"{row['quantity']:,.{row['decimals']}f}", row["unit"]),
                _amount(dollars(row["cash_cents"])),
                _amount(dollars(row["own_cents"])),
            )
    show_table(out, shown)


def _amount(amount: Decimal) -> str:
    """Return an amount for a column of dollars; nothing where there is none."""
    return f"{amount:,.2f}" if amount else "-"


def _credit_words(estimate: Estimate) -> dict[str, Decimal]:
    from estimator.pricing.summaries import cash_by_credit

    words = {"yes": "normally yes", "no": "normally no", "ask": "ask a tax adviser"}
    return {words[answer]: amount for answer, amount in cash_by_credit(estimate).items()}


def _show_amounts(out: Console, heading: str, amounts: Mapping[str, Decimal]) -> None:
    shown = table((heading, "text"), ("$", "number"))
    for name, amount in amounts.items():
        shown.add_row(name, f"{amount:,.2f}")
    out.print()
    show_table(out, shown)


def _show_quantities(
    out: Console, heading: str, unit_name: str, amounts: Mapping[str, Decimal]
) -> None:
    if not amounts:
        return
    shown = table((heading, "text"), (unit_name, "number"))
    for name, amount in amounts.items():
        shown.add_row(name, f"{amount:,.2f}")
    out.print()
    show_table(out, shown)


def _show_own_material(out: Console, estimate: Estimate) -> None:
    if not estimate.priced.own_material:
        return
    shown = table(
        ("Own material", "text"), ("Recovered", "number"), ("Before", "number"),
        ("Used", "number"), ("Sold", "number"), ("Left", "number"),
    )  # fmt: skip
    for one in estimate.priced.own_material:
        amounts = (one.recovered, one.before, one.used, one.sold, one.left)
        shown.add_row(f"{one.name}, {one.unit}", *(f"{n:,f}" if n else "-" for n in amounts))
    out.print()
    show_table(out, shown)


def _show_cautions(out: Console, notes: Sequence[CautionNote], item: str = "") -> None:
    """Print each caution once, with the phases of its work; of one item without."""
    where = "" if item else ", with the phases or the item of the work"
    rows = [(note.caution, "" if item else _phases(note.items)) for note in notes]
    show_cautions(out, f"Cautions, by who decides{where}", rows)


def _phases(codes: Sequence[str]) -> str:
    """Return the one item, or the phases of several."""
    if len(codes) == 1:
        return codes[0]
    return ", ".join(dict.fromkeys(code.partition(".")[0] for code in codes))


def _show_alternates(out: Console, alternates: Sequence[AlternateTotal]) -> None:
    """Print the cash cost with and without each alternate; nothing where there is none."""
    if not alternates:
        return
    shown = table(
        ("Alternate", "text"), ("Included", "code"), ("Without $", "number"), ("With $", "number"),
        ("Change $", "number"),
    )  # fmt: skip
    for one in alternates:
        name = f"{one.code} {one.name}"
        if one.in_place_of:
            name += f", in place of {', '.join(one.in_place_of)}"
        amounts = (f"{amount:,.2f}" for amount in (one.without, one.with_it, one.change))
        shown.add_row(name, "yes" if one.accepted else "no", *amounts)
    out.print()
    show_table(out, shown)


def _show_end(out: Console, estimate: Estimate) -> None:
    """Print the totals once more, which a long list may have moved off the screen."""
    totals = f"Cash cost {money_text(estimate.cash_cost)}, full cost "
    words = f"{totals}{money_text(estimate.full_cost)}. Digest of all inputs: "
    out.print()
    hanging(out, "", "", f"{words}{estimate.digest[:_DIGEST_SHOWN]}, in full with --json.")


def _show_grounds(out: Console, grounds: RestsOn) -> None:
    """Print how much of the totals rests on quotes, own rates, illustrative rates and the rest."""
    from estimator.pricing.rests_on import GROUNDS

    totals = (grounds.direct_cost, grounds.cash_cost, grounds.full_cost)
    shown = table(
        ("What the totals rest on", "text"), ("Direct $", "number"), ("Cash $", "number"),
        ("Full $", "number"),
    )  # fmt: skip
    for ground, words in GROUNDS.items():
        if any(ground in amounts for amounts in totals):
            amounts_shown = [_amount(amounts.get(ground, Decimal(0))) for amounts in totals]
            shown.add_row(words, *amounts_shown)
    out.print()
    show_table(out, shown)
    for sentence in grounds.statements:
        hanging(out, "- ", "  ", sentence)


def _show_totals(out: Console, estimate: Estimate) -> None:
    shown = table(("Totals", "text"), ("$", "number"))
    shown.add_row("Direct cost", f"{estimate.direct_cost:,.2f}")
    for one in estimate.markups:
        basis = ""
        if one.markup.percent is not None:
            basis = f", {one.markup.percent.normalize():f} % of {dollars(one.base_cents):,.2f}"
        shown.add_row(f"{one.markup.name}{basis}", f"{dollars(one.amount_cents):,.2f}")
    shown.add_row("Cash cost", f"{estimate.cash_cost:,.2f}", style="bold")
    shown.add_row("Unpaid value (own labor and material)", f"{estimate.own_value:,.2f}")
    shown.add_row("Full cost", f"{estimate.full_cost:,.2f}", style="bold")
    if estimate.salvage_sales:
        shown.add_row(SALES_WORDS, f"{estimate.salvage_sales:,.2f}")
    out.print()
    show_table(out, shown)
    _show_alternates(out, estimate.alternates)
    _show_grounds(out, estimate.rests_on)
