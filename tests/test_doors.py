"""Every public function and class of the lower floors is reached by what a user can call.

A user calls commands and routes, and writes formulas of assemblies. Whoever imports the library
reaches every public name; but what nothing else reaches is a calculation that prices no job.
"""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from api.calculations.known_takeoffs import REINFORCING, VOLUMES
from estimator.quantity.takeoff_functions import TAKE_OFF

ROOT = Path(__file__).parents[1]
FLOORS = ("quantity/", "rates/labor/", "rates/machines/", "production/")


Name = tuple[str, str]
Defined = ast.FunctionDef | ast.ClassDef | ast.Assign | ast.AnnAssign


def on_the_floors(path: Path) -> bool:
    return path.relative_to(ROOT).as_posix().startswith(tuple(f"estimator/{one}" for one in FLOORS))


def module_name(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


PATHS = [path for folder in ("estimator", "api") for path in (ROOT / folder).rglob("*.py")]
SOURCES = {
    module_name(path): ast.parse(path.read_text(encoding="utf-8"))
    for path in PATHS
    if on_the_floors(path)
}


@cache
def defined(module: str) -> dict[str, Defined]:
    """Return the functions, classes and constants of a module by name."""
    named: dict[str, Defined] = {}
    for node in SOURCES[module].body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            named[node.name] = node
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            named |= {one.id: node for one in targets if isinstance(one, ast.Name)}
    return named


@cache
def homes(module: str, name: str) -> tuple[Name, ...]:
    """Return what `from module import name` brings; of a package, from where it stands."""
    places = [module] if module in SOURCES and name in defined(module) else []
    places = places or [one for one in SOURCES if one.startswith(f"{module}.")]
    return tuple((one, name) for one in places if name in defined(one))


@cache
def imported(module: str) -> dict[str, Name]:
    """Return what each imported name of a module stands for."""
    return {
        alias.asname or alias.name: (node.module, alias.name)
        for node in ast.walk(SOURCES[module])
        if isinstance(node, ast.ImportFrom) and node.module
        for alias in node.names
    }


def used_by(module: str, node: ast.AST) -> Iterator[Name]:
    for part in ast.walk(node):
        if isinstance(part, ast.Name) and part.id in defined(module):
            yield module, part.id
        elif isinstance(part, ast.Name) and part.id in imported(module):
            yield from homes(*imported(module)[part.id])


def imported_above() -> Iterator[Name]:
    """Yield what commands, routes and the floors above import, each of which they use."""
    statement = re.compile(r"^\s*from (estimator\S*) import (\([^)]*\)|.*)$", re.MULTILINE)
    for path in PATHS:
        if not on_the_floors(path):
            for module, names in statement.findall(path.read_text(encoding="utf-8")):
                for name in re.findall(r"(\w+)(?: as \w+)?", names):
                    yield from homes(module, name)


def reached() -> set[Name]:
    """Return all names that users reach, one through the other."""
    by_name = (*TAKE_OFF.values(), *VOLUMES.values(), *REINFORCING.values())
    waiting = [(one.compute.__module__, one.compute.__name__) for one in by_name]
    waiting += imported_above()
    names: set[Name] = set()
    while waiting:
        module, name = waiting.pop()
        if (module, name) not in names:
            names.add((module, name))
            waiting.extend(used_by(module, defined(module)[name]))
    return names


def test_every_public_function_of_the_lower_floors_is_reached_by_a_user():
    public = {
        (module, name)
        for module in SOURCES
        for name, node in defined(module).items()
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not name.startswith("_")
    }
    assert len(public) > 200
    shut = {f"{module}.{name}" for module, name in public - reached()}
    assert not shut
