"""The day of a draw: what books, schedule and inspector say of each line."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from decimal import Decimal
from functools import cached_property

from estimator.errors import Faults, FundingFaulty
from estimator.funding.draw_papers import Papers
from estimator.funding.draw_requests import (
    INTEREST,
    BackupPart,
    CodeProgress,
    LeftOut,
    StoredPart,
)
from estimator.funding.drawings import DrawHistory, Drawing
from estimator.funding.draws import LineState
from estimator.funding.lender_schedule import LenderLine
from estimator.funding.line_states import (
    Beside,
    Drawable,
    beside_lines,
    codes_of_line,
    drawable_entries,
    inspected,
    line_percents,
    split_stored,
)
from estimator.funding.loan_schedule import Loan, LoanLine, bearing, revised_cents
from estimator.funding.walk_notes import out_of_sight, places_to_look
from estimator.money import cents_money
from estimator.tracking.books import Books
from estimator.tracking.budget import Budget, current_budget
from estimator.tracking.job_track import Track, track
from estimator.tracking.status import CodeStatus


@dataclass(frozen=True)
class DrawDay:
    """What is known on the day of a draw.

    Parameters
    ----------
    loan : Loan
        With its frozen schedule.
    baseline : mapping of str to BudgetCode
        The accepted estimate that it was frozen from.
    known : Books
        As of that day: see `Books.known`.
    drawing, history : Drawing, DrawHistory
        What the owner says, and what came before.
    known_on : datetime
        [UTC]
    papers : Papers
        That came in.
    """

    loan: Loan
    baseline: Budget
    known: Books
    drawing: Drawing
    history: DrawHistory
    known_on: datetime
    papers: Papers = field(default_factory=Papers)

    @cached_property
    def since(self) -> date | None:
        """The last day of the draw before."""
        return self.history.last.through if self.history.last else None

    @cached_property
    def bearing(self) -> Sequence[LenderLine]:
        """The lines with the part of each code that they bear."""
        return bearing(self.loan.lines, self._budget)

    @cached_property
    def revised(self) -> Mapping[str, int]:
        """Value of each line with the approved changes [0.01 $]."""
        return revised_cents(self.loan, self._budget)

    @cached_property
    def report(self) -> Track:
        """What the books say by our own measure."""
        return self._track(self.known)

    @cached_property
    def looked_at(self) -> frozenset[str]:
        """Cost codes that the inspector has measured since the draw before."""
        return frozenset(
            one.code
            for one in self.known.progress
            if one.is_inspector and (self.since is None or one.happened > self.since)
        )

    @cached_property
    def inspectors(self) -> Mapping[str, CodeStatus]:
        """Where the codes stand that the inspector has measured, by their figures."""
        codes = self._inspected.status.codes
        return {one.code: one for one in codes if one.code in self.looked_at}

    @cached_property
    def percents(self) -> Mapping[str, Decimal]:
        """How much of each line is done, by the inspector where they have looked [%]."""
        return line_percents(self._inspected.status.codes, self.bearing, self.revised)

    @cached_property
    def beside(self) -> Beside:
        """Earned, incurred and paid by our own measure."""
        return beside_lines(self.report, self.bearing)

    @cached_property
    def entries(self) -> Drawable:
        """The entries that may be drawn."""
        return drawable_entries(self.loan, self.bearing, self.known, self.drawing, self.history)

    @cached_property
    def parts(self) -> Mapping[str, Sequence[BackupPart]]:
        """What each line bears of the entries, those of stored material first."""
        rows = {one.row for one in self.stored}
        not_drawn = {one.row for one in self.not_stored}
        by_line: dict[str, list[BackupPart]] = defaultdict(list)
        for part in sorted(
            self.entries.parts, key=lambda one: (one.row in not_drawn, one.row not in rows, one.row)
        ):
            by_line[part.line].append(part)
        return by_line

    @cached_property
    def stored(self) -> tuple[StoredPart, ...]:
        """Stored material that the terms let be drawn, each on its line."""
        return split_stored(self.loan.terms, self.all_stored)[0]

    @cached_property
    def not_stored(self) -> tuple[LeftOut, ...]:
        """Stored material that they do not."""
        return split_stored(self.loan.terms, self.all_stored)[1]

    @cached_property
    def all_stored(self) -> tuple[StoredPart, ...]:
        """Stored material as the owner says, each on its line.

        Raises
        ------
        FundingFaulty
            If there is no such entry, it stands on several lines, or it is smaller.
        """
        faults, on_lines, sums = Faults(), [], Counter[tuple[int, str]]()
        by_row = self._borne_by_row() if self.drawing.stored else {}
        for one in self.drawing.stored:
            borne = by_row.get(one.row, {})
            line = one.line or (next(iter(borne)) if len(borne) == 1 else "")
            on_lines.append(replace(one, line=line))
            sums[one.row, line] += one.cents
            if line not in borne:
                on = f"not on line {line}" if line else "not an entry that one line carries alone"
                remedy = f"its lines: {', '.join(borne)}; name one" if borne else "name another row"
                faults.add("stored", f"row {one.row} is {on}", remedy)
            elif sums[one.row, line] > borne[line]:
                what = f"row {one.row} has {cents_money(borne[line])} on line {line}"
                over = cents_money(sums[one.row, line])
                faults.add("stored", what, f"{over} of it cannot be stored")
        faults.raise_if_any(FundingFaulty)
        return tuple(on_lines)

    def _borne_by_row(self) -> Mapping[int, Mapping[str, int]]:
        """Return what each line bears of each entry [0.01 $]."""
        borne: dict[int, dict[str, int]] = defaultdict(dict)
        for part in self.entries.parts:
            borne[part.row][part.line] = part.entry_cents
        return borne

    def state(self, line: LoanLine) -> LineState:
        """Return what a line rests on: its value, what was billed on it, its percent, before."""
        name, before = line.line, self.history.lines.get(line.line)
        stored = [one.cents for one in self.all_stored if one.line == name]
        drawn = [one.cents for one in self.stored if one.line == name]
        done = before.figures.done_cents if before else 0
        incurred = sum(one.entry_cents for one in self.parts.get(name, ())) - sum(stored)
        if line.kind == INTEREST:  # what the lender says is drawn, never an entry of the books
            incurred = done + self.drawing.interest_cents
        return LineState(
            line=name,
            name=line.name,
            scheduled_cents=line.scheduled_cents,
            change_cents=self.revised[name] - line.scheduled_cents,
            incurred_cents=incurred,
            percent=self.percents[name],
            stored_cents=sum(drawn),
            done_before_cents=done,
            stored_before_cents=before.figures.stored_cents if before else 0,
            retainage_before_cents=before.figures.retainage_cents if before else 0,
        )

    def codes(self, line: LenderLine) -> tuple[CodeProgress, ...]:
        """Return the cost codes of a line with both measures."""
        return tuple(
            replace(
                one,
                where=self._places.get(one.code, ""),
                covered=self._out_of_sight.get(one.code, ()),
            )
            for one in codes_of_line(line, self._own, self.inspectors)
        )

    @cached_property
    def _own(self) -> Mapping[str, CodeStatus]:
        return {one.code: one for one in self.report.status.codes}

    @cached_property
    def _places(self) -> Mapping[str, str]:
        status = self.report.status
        names = {one.code: f"{one.code} {one.name}".strip() for one in status.by_phase()}
        phases = {one.code: names[one.phase] for one in status.codes if one.phase}
        return places_to_look(phases, self.known)

    @cached_property
    def _out_of_sight(self) -> Mapping[str, tuple[str, ...]]:
        return out_of_sight(self.known, self.papers, self.since)

    @cached_property
    def _budget(self) -> Budget:
        return current_budget(
            self.baseline, self.known.changes, self.drawing.through, self.known_on
        )

    @cached_property
    def _inspected(self) -> Track:
        if not self.looked_at:
            return self.report
        return self._track(inspected(self.known, self.since))

    def _track(self, books: Books) -> Track:
        return track(books, self.baseline, self.drawing.through, self.known_on)
