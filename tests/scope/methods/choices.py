"""Small choices between methods, priced with the shipped tables; every number is invented."""

from decimal import Decimal
from functools import cache
from importlib.resources import files
from pathlib import Path

from estimator.assemblies.tables import Tables, load_tables
from estimator.rates.folders import TableFolder, shipped_tables
from estimator.scope.scope import Scope
from estimator.scope.scope_reader import read_scope
from estimator.scope.scope_yaml import read_yaml
from estimator.studies.comparison.comparison import Comparison, compare
from tests.factories import SPRING, scope_of

PIT = {"length": "40 ft", "width": "12 ft", "depth": "4 ft", "density": "1.35 ton/cy"}
DIG = {
    "name": "wheeling it in",
    "production": {
        "carrier": "machine",
        "load": "0.7 ton",
        "cycle": [
            {"step": "scoop", "time": "1 min"},
            {"step": "wheel in", "distance": "176 ft", "speed": "2 mph"},
            {"step": "tip", "flow": "42 ton/hr", "station": "edge"},
        ],
        "stations": [{"name": "edge"}],
    },
}
THROW = {
    "name": "throwing it in",
    "assembly": "stone-fill-conveyor-hired",
    "mobilization": "$240",
    "production": {
        "carrier": "truck",
        "carriers": "2",
        "load": "18 ton",
        "cycle": [
            {"step": "load", "time": "6 min", "station": "yard"},
            {"step": "haul and return", "time": "40 min"},
            {"step": "throw", "flow": "45 ton/hr", "station": "opening"},
        ],
        "stations": [{"name": "opening"}, {"name": "yard", "taken_by_others": "50 %"}],
        "hired": {"conveyor-truck": "carriers"},
    },
}
BY_HAND = {"name": "carrying it in", "assembly": "stone-fill-barrows"}
PUMP = {
    "name": "pumping fill",
    "assembly": "flowable-fill-pumped",
    "stands_for": "1.4175 ton/cy",
}


@cache
def shipped() -> Tables:
    """Return the shipped tables."""
    return load_tables([shipped_tables()])


def pit_scope(
    *methods: object, tables: Tables | None = None, opening: object = None, **more: object
) -> Scope:
    """Return a scope of one stone fill with methods to choose from."""
    one = {
        "code": "010",
        "name": "Stone fill",
        "assembly": "stone-fill-skid-steer",
        "inputs": PIT,
        "methods": list(methods),
    } | ({} if opening is None else {"opening": opening})
    return scope_of(tables or shipped(), {"30": [one]}, **more)


def pit_choice(
    *methods: object,
    day_worth: Decimal | None = None,
    tables: Tables | None = None,
    opening: object = None,
) -> Comparison:
    """Return the comparison of methods for one stone fill."""
    scope = pit_scope(*(methods or (DIG, THROW, BY_HAND)), tables=tables, opening=opening)
    return compare(scope, tables or shipped(), SPRING, "30.010", day_worth)


SAMPLE = Path(str(files("estimator.sample")))
SAMPLE_FILE = "harrow-lane-carbarn.yaml"


@cache
def sample() -> tuple[Scope, Tables]:
    """Return the sample's scope and tables."""
    quotes = TableFolder("quotes", SAMPLE / "harrow-lane-quotes")
    tables = load_tables([shipped_tables(), quotes])
    content = (SAMPLE / SAMPLE_FILE).read_bytes()
    return read_scope(read_yaml(content, SAMPLE_FILE), tables), tables


@cache
def sample_choice(item: str) -> Comparison:
    """Return the comparison of an item of the sample."""
    scope, tables = sample()
    assert scope.on is not None
    return compare(scope, tables, scope.on, item)


def sample_with(text: str, other: str, item: str) -> Comparison:
    """Return the comparison of an item of the sample, in whose file another text stands."""
    content = (SAMPLE / SAMPLE_FILE).read_text(encoding="utf-8")
    assert text in content
    _, tables = sample()
    scope = read_scope(read_yaml(content.replace(text, other).encode(), SAMPLE_FILE), tables)
    assert scope.on is not None
    return compare(scope, tables, scope.on, item)
