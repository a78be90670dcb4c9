"""The rules of the house that no tool watches: floors, money, docstrings, packages, sizes."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from configparser import ConfigParser
from functools import cache
from itertools import pairwise
from pathlib import Path

import networkx

ROOT = Path(__file__).parents[1]
SOURCES = sorted((ROOT / "estimator").rglob("*.py"))
SERVICE = sorted((ROOT / "api").rglob("*.py"))
LONGEST_FILE = 350

MONEY_WORDS = {"amount", "cents", "cost", "dollars", "fee", "money", "price", "rate"}
NOT_THE_SAME_EVERY_DAY = {
    "datetime": {"now", "today", "utcnow"},
    "date": {"today"},
    "time": {"time", "time_ns", "monotonic", "perf_counter"},
    "os": {"environ", "getenv", "urandom"},
    "uuid": {"uuid1", "uuid4"},
    "random": {"random", "seed", "shuffle", "choice", "randint"},
    "secrets": {"token_hex", "token_urlsafe", "choice"},
}


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def place(path: Path, node: ast.AST) -> str:
    return f"{path.relative_to(ROOT)}:{getattr(node, 'lineno', 0)}"


def calls(path: Path, name: str) -> Iterator[ast.Call]:
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Call):
            function = node.func
            called = function.id if isinstance(function, ast.Name) else None
            called = function.attr if isinstance(function, ast.Attribute) else called
            if called == name:
                yield node


def words_in(node: ast.AST) -> set[str]:
    """Return the words that the names in a piece of code are made of."""
    names = [
        part.id if isinstance(part, ast.Name) else part.attr
        for part in ast.walk(node)
        if isinstance(part, ast.Name | ast.Attribute)
    ]
    return {word for name in names for word in name.split("_")}


def test_there_is_something_to_look_at():
    assert len(SOURCES) >= 40


def test_a_floor_knows_only_the_floors_below_it():
    command = [str(Path(sys.executable).parent / "lint-imports"), "--no-cache"]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr
    assert "0 broken" in run.stdout


def imports_between_files() -> networkx.DiGraph:
    """Return which file of the house names which other, imports for types only among them."""
    files = {
        ".".join(path.relative_to(ROOT).with_suffix("").parts)
        for folder in ("estimator", "api")
        for path in (ROOT / folder).rglob("*.py")
    }
    graph = networkx.DiGraph()
    for name in files:
        for node in ast.walk(tree_of(ROOT / f"{name.replace('.', '/')}.py")):
            if isinstance(node, ast.ImportFrom) and node.module in files:
                graph.add_edge(name, node.module)
    return graph


def test_no_file_names_another_that_names_it_in_turn():
    graph = imports_between_files()
    assert len(graph) >= 600
    assert [part for part in networkx.strongly_connected_components(graph) if len(part) > 1] == []


def test_no_decimal_is_made_of_a_binary_float():
    found = [
        place(path, call)
        for path in SOURCES
        for call in calls(path, "Decimal")
        if call.args
        and any(
            isinstance(part, ast.Constant) and isinstance(part.value, float)
            for part in ast.walk(call.args[0])
        )
    ]
    assert found == []


def test_no_money_is_rounded_by_round():
    found = [
        place(path, call)
        for path in SOURCES
        for call in calls(path, "round")
        if isinstance(call.func, ast.Name) and MONEY_WORDS & words_in(call)
    ]
    assert found == []


def test_no_cents_are_made_a_float():
    found = [
        place(path, call)
        for path in SOURCES
        for call in calls(path, "float")
        if isinstance(call.func, ast.Name) and "cents" in words_in(call)
    ]
    assert found == []


def is_overload(node: ast.FunctionDef) -> bool:
    """Whether a definition only tells the type checker about another one."""
    return any(isinstance(one, ast.Name) and one.id == "overload" for one in node.decorator_list)


def public_definitions(tree: ast.Module) -> Iterator[ast.AST]:
    for node in tree.body:
        if isinstance(node, ast.FunctionDef) and is_overload(node):
            continue
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            if any(ast.unparse(one) == "overload" for one in node.decorator_list):
                continue
            yield node
            if isinstance(node, ast.ClassDef):
                for part in node.body:
                    if isinstance(part, ast.FunctionDef) and not part.name.startswith("_"):
                        yield part


def test_every_module_and_public_name_says_what_it_is():
    assert [str(path) for path in SOURCES if not ast.get_docstring(tree_of(path))] == []
    silent = [
        place(path, one)
        for path in SOURCES
        for one in public_definitions(tree_of(path))
        if not ast.get_docstring(one)
    ]
    assert silent == []


def test_every_listed_package_is_a_folder_and_every_folder_is_listed():
    config = ConfigParser()
    config.read(ROOT / "setup.cfg", encoding="utf-8")
    listed = config["options"]["packages"].split()
    moved = dict(
        pair.split(" = ") for pair in config["options"]["package_dir"].strip().splitlines()
    )
    standing = {
        ".".join(path.parent.relative_to(ROOT).parts)
        for top in ("estimator", "api")
        for path in (ROOT / top).rglob("__init__.py")
    }
    assert len(listed) == len(set(listed))
    assert set(listed) - moved.keys() == standing
    assert all((ROOT / folder).is_dir() for folder in moved.values())


def test_no_folder_of_code_lacks_its_page_of_three_lines():
    folders = {path.parent for path in SOURCES}
    assert [str(one) for one in folders if not (one / "__init__.py").is_file()] == []


def test_no_file_is_longer_than_a_reader_bears():
    files = [path for top in ("estimator", "api") for path in (ROOT / top).rglob("*.py")]
    sizes = {
        str(path.relative_to(ROOT)): len(path.read_text(encoding="utf-8").splitlines())
        for path in files
    }
    assert {name: size for name, size in sizes.items() if size > LONGEST_FILE} == {}


def test_no_two_public_classes_and_no_two_functions_have_one_name():
    """A command, its route and the function behind both may be called alike; so are all steps."""
    places: dict[str, list[str]] = {}
    for path in [*SOURCES, *SERVICE]:
        is_door = path.match("commands/*.py") or path.match("versions/*.py")
        is_door |= path.stem.endswith("routes")
        for node in tree_of(path).body:
            is_named = isinstance(node, ast.ClassDef) or (
                isinstance(node, ast.FunctionDef) and not is_door and not is_overload(node)
            )
            if is_named and not node.name.startswith("_"):
                places.setdefault(node.name, []).append(place(path, node))
    assert [where for where in places.values() if len(where) > 1] == []


def test_a_share_is_printed_with_a_space_before_its_percent_sign():
    formats = {
        place(path, node)
        for path in [*SOURCES, *SERVICE]
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.FormattedValue)
        and node.format_spec is not None
        and ast.unparse(node.format_spec).endswith("%'")
    }
    assert formats == set()


def test_the_library_reads_no_clock_no_environment_and_no_global_chance():
    found = [
        place(path, node)
        for path in SOURCES
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Attribute)
        and isinstance(node.value, ast.Name)
        and node.attr in NOT_THE_SAME_EVERY_DAY.get(node.value.id, ())
    ]
    assert found == []


def test_chance_in_the_library_is_always_seeded():
    found = [
        place(path, node)
        for path in SOURCES
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Attribute)
        and isinstance(node.value, ast.Attribute)
        and ast.unparse(node.value) == "np.random"
        and node.attr not in ("Generator", "default_rng")
    ]
    unseeded = [
        place(path, call)
        for path in SOURCES
        for call in calls(path, "default_rng")
        if not call.args and not call.keywords
    ]
    assert found + unseeded == []


def test_doctests_are_collected_with_the_suite(pytestconfig):
    assert "--doctest-modules" in pytestconfig.getini("addopts")
    assert {"estimator", "api"} <= set(pytestconfig.getini("testpaths"))


def test_no_text_of_the_library_is_left_to_do():
    words = ("TO" + "DO", "FIX" + "ME", "X" * 3)
    found = [
        f"{path.relative_to(ROOT)}: {word}"
        for path in SOURCES
        for word in words
        if word in path.read_text(encoding="utf-8")
    ]
    assert found == []


def parameters_without_words(docstring: str) -> list[str]:
    """Return the parameters that a docstring names and says nothing about."""
    _, _, section = docstring.partition("Parameters\n----------\n")
    lines = re.split(r"\n\w+\n-{3,}\n", section)[0].split("\n")
    return [
        line
        for line, below in pairwise([*lines, ""])
        if re.match(r"[\w*, ]+ : ", line) and not below.startswith("    ")
    ]


def test_every_documented_parameter_has_words():
    found = [
        f"{place(path, node)}: {line}"
        for path in SOURCES
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        for line in parameters_without_words(ast.get_docstring(node) or "")
    ]
    assert found == []
