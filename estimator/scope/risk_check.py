"""Whether what a scope's risk names is there."""

from __future__ import annotations

from collections.abc import Collection

from estimator.errors import Faults, did_you_mean, quoted
from estimator.ranges.item_correlation import ByItems
from estimator.scope.correlation_reader import CORRELATION
from estimator.scope.located import Section
from estimator.scope.risk_reader import RISK
from estimator.scope.scope import Scope
from estimator.scope.stated_ranges import JobRiskStated


def check_phases(
    codes: Collection[str], risk: JobRiskStated, section: Section, faults: Faults
) -> None:
    """Note events that name a phase which is not there."""
    where = section.entries[RISK].where if RISK in section.entries else section.where
    for one in risk.events:
        if one.phase and one.phase not in codes:
            what = f"{quoted(one.name)} names the unknown phase {quoted(one.phase)}"
            faults.add(where, what, did_you_mean(one.phase, codes))


def check_risk(scope: Scope, section: Section, faults: Faults) -> None:
    """Note what the risk of a whole scope names that is not there, or has no work to hold up."""
    phases = {phase.code: phase for phase in scope.phases}
    check_phases(phases, scope.risk, section, faults)
    where = section.entries[RISK].where if RISK in section.entries else section.where
    for event in scope.risk.events:
        if event.takes_time and event.phase in phases and phases[event.phase].plan.along:
            what = f"{quoted(event.name)} says days, and phase {event.phase} runs along others"
            faults.add(where, what, "name the phase whose work is held up")
    codes = {item.code for item in scope.items}
    if isinstance(scope.risk.correlation, ByItems):
        for code in scope.risk.correlation.items:
            if code not in codes:
                what = f"{CORRELATION} names the unknown item {quoted(code)}"
                faults.add(where, what, did_you_mean(code, codes))
