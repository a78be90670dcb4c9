"""`/v1/calculations`: what a scope costs, and the single calculations, for other programs."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import marshmallow as ma
from flask import Response

from api.calculations import examples
from api.calculations.known_takeoffs import REINFORCING, VOLUMES
from api.calculations.labor import labor
from api.calculations.labor_shapes import HiredLabor, LaborAnswer
from api.calculations.machine import machine
from api.calculations.machine_shapes import MachineAnswer, MachineToOwn
from api.calculations.one_machine import loader, roller
from api.calculations.one_machine_shapes import (
    LoaderAnswer,
    LoaderToRun,
    RollerAnswer,
    RollerToRun,
)
from api.calculations.overtime import bonus, overtime, salary
from api.calculations.overtime_shapes import (
    BonusAnswer,
    LateBonus,
    OvertimeAnswer,
    SalariedWeek,
    Workweek,
)
from api.calculations.production import production
from api.calculations.production_shapes import ProductionAnswer, SystemToRun
from api.calculations.rental import rental
from api.calculations.rental_shapes import RentalAnswer, RentalCost
from api.calculations.scope_shapes import (
    ComparisonAnswer,
    EstimateAnswer,
    FileQuery,
    RiskAnswer,
    ScheduleAnswer,
    ScopeToCompare,
    ScopeToPrice,
    ScopeToShow,
    ScopeWithRisk,
)
from api.calculations.scopes import (
    FILE_TYPES,
    WORKBOOK_TYPE,
    ReadScope,
    scope_of_body,
    scope_of_file,
)
from api.calculations.size_limits import check_ranges_size
from api.calculations.soil import soil
from api.calculations.soil_shapes import SoilAnswer, SoilToMove
from api.calculations.studies import (
    ANY_FILE,
    comparison_text,
    drawn_risk,
    schedule_shown,
    schedule_text,
)
from api.calculations.takeoff import taken_off
from api.calculations.takeoff_shapes import ReinforcingParts, TakenOff, Volumes
from api.contract.answers import attachment, json_answer
from api.contract.blueprint import Blueprint
from api.contract.bodies import takes_upload

_AT = "/v1/calculations"
_BINARY = {"type": "string", "format": "binary"}

calculations = Blueprint(
    "calculations", __name__, description="Calculations for other programs; nothing is stored."
)


@calculations.post(f"{_AT}/estimate")
@calculations.takes(ScopeToPrice, example=examples.ESTIMATE)
@calculations.answers(EstimateAnswer)
def price_scope(body: ScopeToPrice) -> Response:
    """Price a scope: the same bytes as `groundsill price --json`."""
    return _estimate(scope_of_body(body))


@calculations.post(f"{_AT}/estimate-of-file")
@calculations.asks(FileQuery)
@calculations.answers(EstimateAnswer)
@calculations.takes_file(FILE_TYPES)
@takes_upload
def price_file(query: FileQuery) -> Response:
    """Price a scope file: YAML or a workbook."""
    return _estimate(scope_of_file(query.on))


@calculations.post(f"{_AT}/estimate-workbook")
@calculations.takes(ScopeToPrice, example=examples.ESTIMATE)
@calculations.answers(_BINARY, content_type=WORKBOOK_TYPE)
def price_to_workbook(body: ScopeToPrice) -> Response:
    """Price a scope and return the estimate as a workbook."""
    from estimator.workbook.estimate_workbook import write_estimate

    estimate = scope_of_body(body).priced()
    with TemporaryDirectory() as folder:
        path = Path(folder) / "estimate.xlsx"
        write_estimate(estimate, path)
        content = path.read_bytes()
    headers = {"Content-Disposition": attachment(estimate.scope.project, ".xlsx")}
    return Response(content, content_type=WORKBOOK_TYPE, headers=headers)


@calculations.post(f"{_AT}/risk")
@calculations.takes(ScopeWithRisk, example=examples.RISK)
@calculations.answers(RiskAnswer)
def price_with_risk(body: ScopeWithRisk) -> Response:
    """Price a scope with its cost range: the same bytes as `groundsill price --risk --json`."""
    from estimator.pricing.estimate_json import estimate_json
    from estimator.studies.risk.risk_json import risk_fields

    read = scope_of_body(body)
    check_ranges_size(read.scope, body.iterations)
    estimate = read.priced()
    return _text(estimate_json(estimate, risk_fields(drawn_risk(estimate, body))))


@calculations.post(f"{_AT}/comparison")
@calculations.takes(ScopeToCompare, example=examples.COMPARISON)
@calculations.answers(ComparisonAnswer)
def compare_methods(body: ScopeToCompare) -> Response:
    """Compare the methods of an item: the same bytes as `groundsill compare --json`."""
    read = scope_of_body(body)
    return _text(comparison_text(read.scope, read.tables, read.on, body))


@calculations.post(f"{_AT}/schedule")
@calculations.takes(ScopeToPrice, example=examples.SCHEDULE)
@calculations.answers(ScheduleAnswer)
def schedule_scope(body: ScopeToPrice) -> Response:
    """Work out the dates of a scope, as `groundsill schedule --json` prints them."""
    return _text(schedule_text(scope_of_body(body).priced(), body))


@calculations.post(f"{_AT}/schedule-file")
@calculations.takes(ScopeToShow, example=examples.SCHEDULE_FILE)
@calculations.answers(_BINARY, content_type=ANY_FILE)
def show_schedule_of_scope(body: ScopeToShow) -> Response:
    """Work out the dates of a scope and return a file that shows them."""
    estimate = scope_of_body(body).priced()
    headers = {"Content-Disposition": attachment(estimate.scope.project, f".{body.form}")}
    return Response(schedule_shown(estimate, body), content_type=ANY_FILE, headers=headers)


@calculations.post(f"{_AT}/volumes")
@calculations.takes(Volumes, example=examples.VOLUMES)
@calculations.answers(TakenOff, example=examples.VOLUMES_ANSWER)
def take_off_volumes(body: Volumes) -> Response:
    """Take off volumes of fill, cuts, heaps and concrete."""
    return json_answer({"parts": taken_off(body.parts, VOLUMES)})


@calculations.post(f"{_AT}/reinforcing")
@calculations.takes(ReinforcingParts, example=examples.REINFORCING)
@calculations.answers(TakenOff, example=examples.REINFORCING_ANSWER)
def take_off_reinforcing(body: ReinforcingParts) -> Response:
    """Count and weigh bars and welded wire."""
    return json_answer({"parts": taken_off(body.parts, REINFORCING)})


@calculations.post(f"{_AT}/soil")
@calculations.takes(SoilToMove, example=examples.SOIL)
@calculations.answers(SoilAnswer, example=examples.SOIL_ANSWER)
def move_soil(body: SoilToMove) -> Response:
    """Convert earth between bank, loose and compacted, and count its truckloads."""
    return _answer(SoilAnswer, soil(body))


@calculations.post(f"{_AT}/rental")
@calculations.takes(RentalCost, example=examples.RENTAL)
@calculations.answers(RentalAnswer, example=examples.RENTAL_ANSWER)
def rent(body: RentalCost) -> Response:
    """Find the cheapest mix of days, weeks and months to rent a machine, and the bill."""
    return _answer(RentalAnswer, rental(body))


@calculations.post(f"{_AT}/production")
@calculations.takes(SystemToRun, example=examples.PRODUCTION)
@calculations.answers(ProductionAnswer)
def produce(body: SystemToRun) -> Response:
    """Find the output of a working system, and what limits it."""
    return _answer(ProductionAnswer, production(body))


@calculations.post(f"{_AT}/loader")
@calculations.takes(LoaderToRun, example=examples.LOADER)
@calculations.answers(LoaderAnswer, example=examples.LOADER_ANSWER)
def run_loader(body: LoaderToRun) -> Response:
    """Find the output of a loader, and how many trucks it fills."""
    return _answer(LoaderAnswer, loader(body))


@calculations.post(f"{_AT}/roller")
@calculations.takes(RollerToRun, example=examples.ROLLER)
@calculations.answers(RollerAnswer, example=examples.ROLLER_ANSWER)
def run_roller(body: RollerToRun) -> Response:
    """Find the output of a roller, and how many it takes to keep up."""
    return _answer(RollerAnswer, roller(body))


@calculations.post(f"{_AT}/overtime")
@calculations.takes(Workweek, example=examples.OVERTIME)
@calculations.answers(OvertimeAnswer, example=examples.OVERTIME_ANSWER)
def pay_overtime(body: Workweek) -> Response:
    """Work out the pay of a workweek, with time and a half past 40 hours (29 CFR part 778)."""
    return _answer(OvertimeAnswer, overtime(body))


@calculations.post(f"{_AT}/salary")
@calculations.takes(SalariedWeek, example=examples.SALARY)
@calculations.answers(OvertimeAnswer, example=examples.SALARY_ANSWER)
def pay_salary(body: SalariedWeek) -> Response:
    """Work out the pay of a workweek on a salary (29 CFR 778.113)."""
    return _answer(OvertimeAnswer, salary(body))


@calculations.post(f"{_AT}/bonus")
@calculations.takes(LateBonus, example=examples.BONUS)
@calculations.answers(BonusAnswer, example=examples.BONUS_ANSWER)
def pay_bonus(body: LateBonus) -> Response:
    """Work out the overtime due on a bonus for several weeks (29 CFR 778.209)."""
    return _answer(BonusAnswer, bonus(body))


@calculations.post(f"{_AT}/labor")
@calculations.takes(HiredLabor, example=examples.LABOR)
@calculations.answers(LaborAnswer, example=examples.LABOR_ANSWER)
def burden_labor(body: HiredLabor) -> Response:
    """Work out what an hour of hired labor costs: wage, overtime, fringe, taxes, insurance."""
    return _answer(LaborAnswer, labor(body))


@calculations.post(f"{_AT}/machine")
@calculations.takes(MachineToOwn, example=examples.MACHINE)
@calculations.answers(MachineAnswer, example=examples.MACHINE_ANSWER)
def own_machine(body: MachineToOwn) -> Response:
    """Work out what an hour of your own machine costs, and how many hours make owning pay."""
    return _answer(MachineAnswer, machine(body))


def _estimate(read: ReadScope) -> Response:
    from estimator.pricing.estimate_json import estimate_json

    return _text(estimate_json(read.priced()))


def _text(json_text: str) -> Response:
    return Response(json_text.encode(), content_type="application/json")


def _answer(shape: type[ma.Schema], result: dict[str, Any]) -> Response:
    return json_answer(shape().dump(result))
