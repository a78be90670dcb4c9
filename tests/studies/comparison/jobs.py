"""Random small jobs with several methods, each priced again with one value written into the scope.

A job is written anew for each value and goes the way of any scope: read, priced, compared.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache
from typing import Any

from hypothesis import strategies as st

from estimator.assemblies.tables import Tables
from estimator.rates.resources import RateTable
from estimator.studies.comparison.comparison import Comparison, compare
from tests.factories import SPRING, scope_of
from tests.scope.methods.choices import shipped

Job = dict[str, Any]

PIT_METHODS = (
    "wheeling", "throwing", "by hand", "pumping", "with two trucks", "both kinds", "from a pile",
)  # fmt: skip
NEEDED = {"distance": "wheeling", "round": "both kinds", "pile": "from a pile"}
YARD_MINUTES, LOAD_TONS, SMALL_LOAD_MINUTES = 6, 18, 4
# A yard of pumped fill stands for 1.35 ton x 1.05 of stone, which holds at this settlement only.
SETTLEMENT_OF_FILL = 5
NOT_BESIDE = {
    "settlement": ("pumping",),
    "haul": ("with two trucks",),
    "carriers": ("with two trucks",),
    "throw": ("with two trucks",),
    "mobilization": ("with two trucks",),
}


@dataclass(frozen=True)
class Kind:
    """One thing that is varied: its name, the job that has it, and how a value is written in."""

    name: str
    make: Callable[[Job], Comparison]
    key: str
    write: Callable[[Decimal], Any]
    usual: tuple[float, float]


def pit(job: Job) -> Comparison:
    """Return the comparison of ways to fill a pit."""
    throwing = {
        "name": "throwing",
        "assembly": "stone-fill-conveyor-hired",
        "mobilization": job["mobilization"],
        "production": {
            "carrier": "truck", "carriers": job["carriers"], "load": f"{LOAD_TONS} ton",
            "cycle": [
                {"step": "load", "time": f"{YARD_MINUTES} min", "station": "yard"},
                {"step": "haul and return", "time": job["haul"]},
                {"step": "throw", "flow": job["throw"], "station": "opening"},
            ],
            "stations": [{"name": "opening"}, {"name": "yard", "taken_by_others": "50 %"}],
            "hired": {"conveyor-truck": "carriers"},
        },
    }  # fmt: skip
    wheeling = {
        "name": "wheeling",
        "mobilization": "$900",
        "production": {
            "carrier": "machine", "load": "0.7 ton",
            "cycle": [
                {"step": "scoop", "time": "1 min"},
                {"step": "wheel in", "distance": job["distance"], "speed": "2 mph"},
                {"step": "tip", "flow": "42 ton/hr", "station": "edge"},
            ],
            "stations": [{"name": "edge"}],
        },
    }  # fmt: skip
    both = {
        "name": "both kinds",
        "assembly": "stone-fill-conveyor-hired",
        "mobilization": "$600",
        "production": {
            "carrier": "tandem", "carriers": "2", "load": "18 ton",
            "cycle": [
                {"step": "tandem load", "time": "9 min", "station": "loader"},
                {"step": "tandem round", "time": "35 min"},
            ],
            "stations": [{"name": "loader"}],
            "hired": {"conveyor-truck": "carriers"},
            "beside": {
                "carrier": "small truck", "load": "8 ton",
                "cycle": [
                    {"step": "load", "time": f"{SMALL_LOAD_MINUTES} min", "station": "loader"},
                    {"step": "round", "time": job["round"]},
                ],
                "hired": {"conveyor-truck": "carriers"},
            },
        },
    }  # fmt: skip
    from_pile = {
        "name": "from a pile",
        "assembly": "stone-fill-conveyor-hired",
        "crew": "skid-steer-fill",
        "production": {
            "carrier": "loader", "load": "0.8 ton",
            "cycle": [{"step": "from the pile and back", "time": "2.4 min"}],
            "pile": {"holds": job["pile"], "comes": "55 ton/hr", "hired": {"conveyor-truck": "2"}},
        },
    }  # fmt: skip
    methods = {
        "wheeling": wheeling,
        "both kinds": both,
        "from a pile": from_pile,
        "throwing": throwing,
        "by hand": {"name": "by hand", "assembly": "stone-fill-barrows"},
        "pumping": {
            "name": "pumping", "assembly": "flowable-fill-pumped", "stands_for": "1.4175 ton/cy",
        },
        "with two trucks": {**throwing, "name": "with two trucks"},
    }  # fmt: skip
    inputs = {
        "length": job["length"], "width": "12 ft", "depth": job["depth"], "density": "1.35 ton/cy",
        "settlement": job["settlement"],
    }  # fmt: skip
    return _compared(
        "stone-fill-skid-steer", inputs, [methods[name] for name in job["methods"]], job
    )


def floor(job: Job) -> Comparison:
    """Return the comparison of saving the planks of a floor with wrecking it."""
    inputs = {key: job[key] for key in ("area", "recovery", "spikes_per_crossing")}
    save = {
        "name": "saving", "kept": "sound_plank * (1 - sold_share)", "kept_as": "salvaged-plank",
    }  # fmt: skip
    scrap = {
        "name": "scrapping",
        "assembly": "plank-floor-wreck",
        "mobilization": job["mobilization"],
    }
    return _compared("plank-floor-salvage", inputs, [save, scrap], job)


def _compared(assembly: str, inputs: Mapping[str, str], methods: list[Job], job: Job) -> Comparison:
    tables = _with_wage(job["laborer"])
    one = {
        "code": "010", "name": "Work", "assembly": assembly, "inputs": inputs, "methods": methods,
    }  # fmt: skip
    return compare(scope_of(tables, {"30": [one]}), tables, SPRING, "30.010", job["day_worth"])


@lru_cache(16)
def _with_wage(wage: Decimal) -> Tables:
    tables = shipped()
    now = replace(tables.rates.rate_on("laborer", SPRING), rate=wage, set_on=SPRING)
    return replace(tables, rates=RateTable([*tables.rates.rows(), now], tables.sets))


def _measure(unit: str) -> Callable[[Decimal], str]:
    return lambda value: f"{value:f} {unit}"


def _haul(turnaround: Decimal) -> str:
    """Return the haul that gives a turnaround, with 24 min of throwing 18 tons at 45 ton/hr."""
    return f"{turnaround - YARD_MINUTES - 24:f} min"


def _small_round(turnaround: Decimal) -> str:
    return f"{turnaround - SMALL_LOAD_MINUTES:f} min"


KINDS = (
    Kind("small truck turnaround", pit, "round", _small_round, (10.0, 90.0)),
    Kind("pile", pit, "pile", _measure("ton"), (1.0, 120.0)),
    Kind("depth", pit, "depth", _measure("ft"), (0.5, 12.0)),
    Kind("settlement", pit, "settlement", lambda value: f"{value * 100:f} %", (0.0, 0.35)),
    Kind("laborer", pit, "laborer", Decimal, (15.0, 90.0)),
    Kind("truck turnaround", pit, "haul", _haul, (40.0, 300.0)),
    Kind("haul and return time", pit, "haul", _measure("min"), (5.0, 55.0)),
    Kind("throw rate", pit, "throw", _measure("ton/hr"), (8.0, 90.0)),
    Kind("throwing: carriers", pit, "carriers", lambda value: f"{value:f}", (1.0, 9.0)),
    Kind("wheel in distance", pit, "distance", _measure("ft"), (20.0, 900.0)),
    Kind("throwing: mobilization", pit, "mobilization", lambda v: f"${v:f}", (0.0, 6000.0)),
    Kind("day worth", pit, "day_worth", Decimal, (0.0, 2500.0)),
    Kind("spikes_per_crossing", floor, "spikes_per_crossing", _measure("ea"), (1.0, 4.0)),
    Kind("recovery", floor, "recovery", lambda value: f"{value * 100:f} %", (0.0, 0.95)),
    Kind("area", floor, "area", _measure("sf"), (50.0, 4000.0)),
    Kind("scrapping: mobilization", floor, "mobilization", lambda v: f"${v:f}", (0.0, 9000.0)),
)


@st.composite
def jobs(draw: st.DrawFn, kind: Kind) -> Job:
    """Return a job that has what a kind varies."""
    needed = NEEDED.get(kind.key, "throwing")
    others = sorted(set(PIT_METHODS) - {needed} - set(NOT_BESIDE.get(kind.key, ())))
    names = [needed, *draw(st.lists(st.sampled_from(others), min_size=1, max_size=3, unique=True))]
    settlement = SETTLEMENT_OF_FILL if "pumping" in names else draw(st.integers(0, 20))
    return {
        "methods": names,
        "length": f"{draw(st.integers(10, 90))} ft",
        "depth": f"{draw(st.decimals('0.5', '9', places=2))} ft",
        "settlement": f"{settlement} %",
        "haul": f"{draw(st.integers(10, 200))} min",
        "throw": "45 ton/hr",
        "round": f"{draw(st.integers(8, 80))} min",
        "pile": f"{draw(st.integers(10, 120))} ton",
        "carriers": f"{draw(st.integers(1, 5))}",
        "distance": f"{draw(st.integers(30, 600))} ft",
        "mobilization": f"${draw(st.integers(0, 5000))}",
        "laborer": draw(st.decimals("15", "80", places=2)),
        "day_worth": draw(st.decimals("0", "900", places=2)),
        "area": f"{draw(st.integers(60, 4000))} sf",
        "recovery": f"{draw(st.integers(5, 90))} %",
        "spikes_per_crossing": f"{draw(st.integers(1, 4))} ea",
    }
