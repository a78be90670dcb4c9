"""The stone fill of docs/production.md in four ways; all numbers are invented.

A pit of 200 cy takes 273 tons of loose stone (1.30 ton/cy, 5 % settlement), or 200 cy of flowable
fill.
"""

from estimator.production.cycle import FlowStep, Load, Step, TravelStep
from estimator.production.working_system import Station, WorkingSystem

STONE_TON = 273.0
FILL_CY = 200.0
FIFTY_MINUTES = 50 / 60

SKID_STEER = WorkingSystem(
    name="wheeled in by skid steer",
    carriers=1,
    load=Load(0.7, "ton"),
    cycle=(
        Step("scoop", 0.5),
        TravelStep("wheel in", 150.0, 3.0),
        FlowStep("tip and spread", 60.0, "ton", "pit edge"),
        TravelStep("back out", 150.0, 4.0),
    ),
    stations=(Station("pit edge"),),
    efficiency=FIFTY_MINUTES,
)

CONVEYOR_TRUCK = WorkingSystem(
    name="thrown in by conveyor truck",
    carriers=2,
    load=Load(18.0, "ton"),
    cycle=(
        Step("load", 6.0, "stone yard"),
        Step("haul", 30.0),
        Step("back in and set up", 15.0, "opening"),
        FlowStep("throw", 45.0, "ton", "opening"),
        Step("sweep and leave", 5.0, "opening"),
        Step("return", 30.0),
    ),
    stations=(Station("opening"), Station("stone yard", taken_by_others=0.5)),
    efficiency=FIFTY_MINUTES,
)

PUMPED_FILL = WorkingSystem(
    name="flowable fill, pumped",
    carriers=4,
    load=Load(8.0, "cy"),
    cycle=(
        Step("load", 6.0, "plant"),
        Step("haul", 25.0),
        Step("back up to the pump", 3.0, "pump"),
        FlowStep("empty into the pump", 25.0, "cy", "pump"),
        Step("wash and return", 30.0),
    ),
    stations=(Station("plant", taken_by_others=0.6), Station("pump")),
    efficiency=FIFTY_MINUTES,
)

BARROWS = WorkingSystem(
    name="by hand over a chute",
    carriers=4,
    load=Load(200.0, "lb"),
    cycle=(
        Step("shovel full", 2.0, "stone pile"),
        TravelStep("wheel", 100.0, 2.0),
        Step("tip", 0.5, "chute"),
        TravelStep("wheel back", 100.0, 2.5),
    ),
    stations=(Station("stone pile", places=2), Station("chute")),
    efficiency=0.75,
)

FOUR_WAYS = (SKID_STEER, CONVEYOR_TRUCK, PUMPED_FILL, BARROWS)
