"""What the digest of a scope covers: named fields of named things, whatever the code calls them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, Field, fields
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

import rfc8785

from estimator.assemblies.assembly import Assembly
from estimator.digests import canonical_digest
from estimator.production.cycle import FlowStep, Load, Step, TravelStep
from estimator.production.delays import Delays
from estimator.production.lifts import Lift
from estimator.production.working_calendar import WorkingCalendar
from estimator.production.working_system import Station, WorkingSystem
from estimator.quantity.formulas import Formula
from estimator.ranges.correlation import ByGroups
from estimator.ranges.distributions import Fixed, Pert, Triangular, Uniform
from estimator.ranges.events import Event
from estimator.ranges.item_correlation import ByItems
from estimator.scope.escalation import Escalation
from estimator.scope.input_value import InputValue
from estimator.scope.inspection import Inspection
from estimator.scope.job_calendar import JobCalendar
from estimator.scope.level import Level
from estimator.scope.methods.method import Brought, Hired, KeptMaterial, Method, Pile, Production
from estimator.scope.methods.passage import Size
from estimator.scope.scope import Alternate, Item, Phase, Scope
from estimator.scope.stated_price import StatedPrice
from estimator.scope.stated_ranges import JobRiskStated, Spread
from estimator.scope.title_block import TitleBlock
from estimator.scope.work_plan import Wait, WorkPlan

# A field that is not named here changes no digest, and one at its default none either: so what is
# added later leaves the digests of scopes that do not use it. Not covered: `on`, which the digest
# of an estimate has, `where` and `notes`.
COVERED: Mapping[type, tuple[str, str]] = {
    Scope: (
        "scope",
        "project shift markups assumptions phases day_worth risk alternates title_block "
        "calendar crew",
    ),
    TitleBlock: ("title block", "address prepared_for prepared_by revision"),
    Alternate: ("alternate", "code name is_accepted adds takes_out"),
    Phase: ("phase", "code name items plan"),
    WorkPlan: ("plan", "after days waits starts_with along"),
    Wait: ("wait", "days by_calendar"),
    JobCalendar: ("calendar", "start working shift inspections overtime escalation"),
    Escalation: ("escalation", "yearly by_index"),
    Inspection: ("inspection", "name by code is_before notice"),
    WorkingCalendar: (
        "working calendar",
        "weekdays country subdivision days_off days_worked weather_days",
    ),
    Item: (
        "item",
        "code name assembly inputs crew element note methods spread choice stated level plan "
        "delays",
    ),
    StatedPrice: (
        "stated price",
        "form amount kind credit days firm set_on valid_until includes excludes attachment source",
    ),
    InputValue: ("measure", "value text spots"),
    Assembly: ("assembly", "code"),
    Formula: ("formula", "text"),
    Method: (
        "method",
        "name assembly inputs crew risks mobilization storage stands_for kept production days "
        "machine opening delays",
    ),
    Delays: ("delays", "working_minutes conditions first_days"),
    Level: ("level", "top marks"),
    Size: ("size", "name width height"),
    KeptMaterial: ("saved material", "quantity resource"),
    Production: ("production", "carrier system hired placing lifts brings beside pile"),
    Pile: ("pile", "holds comes hired"),
    Hired: ("hired", "resource number"),
    Brought: ("brought", "resource number"),
    WorkingSystem: ("system", "name carriers load cycle stations efficiency shift_hr"),
    Load: ("load", "size unit"),
    Station: ("station", "name places taken_by_others"),
    Step: ("step", "name minutes station"),
    FlowStep: ("flow step", "name rate_per_hr unit station"),
    TravelStep: ("travel step", "name distance_ft speed_mph station"),
    Lift: ("lift", "name share speed_factor"),
    JobRiskStated: ("risk", "usual correlation events start known"),
    Spread: ("spread", "quantity pace"),
    ByGroups: ("correlation", "between within"),
    ByItems: ("correlation of items", "between items coefficients"),
    Event: ("event", "name probability cost phase days"),
    Fixed: ("fixed", "value"),
    Uniform: ("uniform", "low high"),
    Triangular: ("triangular", "low likely high"),
    Pert: ("pert", "low likely high"),
}


def scope_digest(scope: Scope) -> str:
    """Return the SHA-256 of what a scope says, without where it stands in a file."""
    return canonical_digest("scope 1", _plain(scope))


def _plain(value: Any) -> Any:
    """Return a value of a scope as plain values: numbers as texts, things as their fields."""
    if value.__class__ in COVERED:
        return _fields(value)
    if value is None or isinstance(value, (str, int)):
        return value
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    if isinstance(value, frozenset):
        return [_plain(one) for one in sorted(value)]
    if isinstance(value, Fraction):
        return f"{value.numerator}/{value.denominator}"
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    if isinstance(value, float):
        return rfc8785.dumps(value).decode()
    if isinstance(value, date):
        return value.isoformat()
    return [[name, _plain(value[name])] for name in sorted(value)]


def _fields(value: Any) -> Any:
    name, defaults = _covered(value.__class__)
    plain: dict[str, Any] = {"is": name}
    for field, default in defaults.items():
        own = getattr(value, field)
        if default is MISSING or (own is not default and own != default):
            plain[field] = _plain(own)
    return plain


@cache
def _covered(kind: Any) -> tuple[str, dict[str, Any]]:
    """Return what a thing is called in a digest, and the default of each field that it covers."""
    name, covered = COVERED[kind]
    known = {field.name: field for field in fields(kind)}
    return name, {field: _default(known[field]) for field in covered.split()}


def _default(field: Field[Any]) -> Any:
    return field.default if field.default_factory is MISSING else field.default_factory()
